package trust

import (
	"math"

	"waterstrike/geo"
)

// OutcomeTellers are those who state a chance, in the order of [OutcomeCase].Said.
func OutcomeTellers() []geo.Code { return []geo.Code{Advisor, BaseRate, Eight} }

// OutcomeCase is one bore that worked or failed, beside the chance that everybody gave it.
type OutcomeCase struct {
	Case
	Method   geo.Method
	Works    bool
	Said     []float64 // in the order of [OutcomeTellers]
	Lasts    float64   // the advisor's chance of water that lasts
	Width    float64   // of the advisor's 80 % range
	NearestM float64   // distance to the nearest bore
	Enough   bool      // the advisor held its evidence to be enough
}

// OutcomeAccount is how the stated chances stood.
type OutcomeAccount struct {
	Cases       int               `json:"cases"`
	Worked      int               `json:"worked"`
	MeanSaid    float64           `json:"meanSaid"`
	MeanLasts   float64           `json:"meanLasts"` // of the chance of lasting water
	Brier       Measure           `json:"brier"`
	Slope       geo.Opt[Interval] `json:"slope,omitzero"` // of the recalibration, 1 at best
	Reliability []Bin             `json:"reliability"`
	Abstaining  []Abstention      `json:"abstaining"`
	Answered    geo.Opt[Answered] `json:"answered,omitzero"`
}

// Answered splits the cases by whether the advisor held its evidence to be enough.
type Answered struct {
	Cases int     `json:"cases"` // with enough evidence
	Brier float64 `json:"brier"` // of those
	Rest  float64 `json:"rest"`  // of the others
}

func judgeOutcomes(cases []OutcomeCase) *OutcomeAccount {
	if len(cases) == 0 {
		return nil
	}
	a := &OutcomeAccount{Cases: len(cases)}
	s := &sheet{code: "score.brier", who: OutcomeTellers()}
	for _, c := range cases {
		losses := make([]float64, len(s.who))
		for i, p := range c.Said {
			losses[i] = square(p - c.worked())
		}
		s.add(c.Block, 1, losses...)
		a.MeanSaid += c.Said[0] / float64(len(cases))
		a.MeanLasts += c.Lasts / float64(len(cases))
		a.Worked += int(c.worked())
	}
	a.Brier = s.measure()
	a.Slope = slopeOf(cases)
	a.Reliability = reliabilityOf(cases)
	a.Abstaining = abstainingOf(cases)
	a.Answered = answeredOf(cases)
	return a
}

func (c *OutcomeCase) worked() float64 {
	if c.Works {
		return 1
	}
	return 0
}

func (c *OutcomeCase) brier() float64 { return square(c.Said[0] - c.worked()) }

func answeredOf(cases []OutcomeCase) geo.Opt[Answered] {
	var a Answered
	for _, c := range cases {
		if c.Enough {
			a.Cases++
			a.Brier += c.brier()
		} else {
			a.Rest += c.brier()
		}
	}
	if a.Cases == 0 || a.Cases == len(cases) {
		return geo.Opt[Answered]{}
	}
	a.Brier /= float64(a.Cases)
	a.Rest /= float64(len(cases) - a.Cases)
	return geo.Some(a)
}

// Bin is one tenth of the stated chances: what was said there, and what came of it.
type Bin struct {
	Said   float64  `json:"said"`   // mean
	Worked float64  `json:"worked"` // share
	Cases  int      `json:"cases"`
	Range  Interval `json:"range"` // 95 % of the share
}

// reliabilityOf gathers the cases by tenths of the stated chance.
//
//   - Source: Murphy and Winkler (1977); intervals by Wilson (1927).
func reliabilityOf(cases []OutcomeCase) (out []Bin) {
	var said, worked, n [10]float64
	for _, c := range cases {
		i := min(int(10*c.Said[0]), 9)
		said[i] += c.Said[0]
		worked[i] += c.worked()
		n[i]++
	}
	for i := range n {
		if n[i] > 0 {
			share := worked[i] / n[i]
			out = append(out, Bin{said[i] / n[i], share, int(n[i]), wilson(share, n[i])})
		}
	}
	return out
}

func wilson(share, n float64) Interval {
	const z = 1.959963984540054 // Φ⁻¹(0.975)
	mid := (share + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(share*(1-share)/n+z*z/(4*n*n))
	return Interval{max(mid-half, 0), share, min(mid+half, 1)}
}
