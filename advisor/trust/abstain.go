package trust

import (
	"cmp"
	"slices"
)

// Abstention is the mean Brier score of the cases that are answered when the least sure
// ones are not: by the width of the advisor's own range, and by the distance to the
// nearest bore, as a person without a model would choose.
type Abstention struct {
	Answered   float64 `json:"answered"` // share of the cases
	ByWidth    float64 `json:"byWidth"`
	ByDistance float64 `json:"byDistance"`
}

// abstainingOf draws the risk-coverage curve at every tenth.
//
//   - Source: El-Yaniv and Wiener (2010), the risk-coverage trade-off.
func abstainingOf(cases []OutcomeCase) (out []Abstention) {
	width := sorted(cases, func(c OutcomeCase) float64 { return c.Width })
	distance := sorted(cases, func(c OutcomeCase) float64 { return c.NearestM })
	for tenth := 10; tenth > 0; tenth-- {
		n := (tenth*len(cases) + 9) / 10
		out = append(out, Abstention{
			Answered: float64(tenth) / 10, ByWidth: meanBrier(width[:n]), ByDistance: meanBrier(distance[:n]),
		})
	}
	return out
}

func sorted(cases []OutcomeCase, by func(OutcomeCase) float64) []OutcomeCase {
	out := slices.Clone(cases)
	slices.SortStableFunc(out, func(a, b OutcomeCase) int { return cmp.Compare(by(a), by(b)) })
	return out
}

func meanBrier(cases []OutcomeCase) float64 {
	sum := 0.0
	for _, c := range cases {
		sum += c.brier()
	}
	return sum / float64(len(cases))
}
