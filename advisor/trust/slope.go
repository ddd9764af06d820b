package trust

import (
	"math"
	"math/rand/v2"
	"slices"

	"waterstrike/geo"
)

// least distance of a chance from 0 and 1 where it is taken to the logit.
const edge = 1e-3

// slopeOf fits works ~ logit⁻¹(a + b logit(p)) and returns b with its interval by blocks of
// land drawn again: 1 when the chances are as bold as they should be, below 1 when they are
// too bold. Missing where there are too few cases, or one outcome only.
//
//   - Source: Cox (1958), two further applications of a model for binary regression.
func slopeOf(cases []OutcomeCase) (none geo.Opt[Interval]) {
	groups := grouped(cases)
	if len(cases) < LeastCases || len(groups) < LeastBlocks {
		return none
	}
	slope, ok := recalibrate(cases)
	if !ok {
		return none
	}
	var draws []float64
	rng := rand.New(rand.NewPCG(3, uint64(len(cases))))
	for range resamples / 4 {
		var drawn []OutcomeCase
		for range groups {
			drawn = append(drawn, groups[rng.IntN(len(groups))]...)
		}
		if b, ok := recalibrate(drawn); ok {
			draws = append(draws, b)
		}
	}
	if len(draws) < resamples/8 {
		return none
	}
	return geo.Some(intervalOf(draws, slope))
}

// grouped gathers the cases of each block, in order of the blocks' numbers.
func grouped(cases []OutcomeCase) (out [][]OutcomeCase) {
	sorted := slices.Clone(cases)
	slices.SortStableFunc(sorted, func(a, b OutcomeCase) int { return a.Block - b.Block })
	return slices.Collect(runs(sorted))
}

// runs yields the cases of one block after the other.
func runs(sorted []OutcomeCase) func(yield func([]OutcomeCase) bool) {
	return func(yield func([]OutcomeCase) bool) {
		for from := 0; from < len(sorted); {
			to := from + 1
			for to < len(sorted) && sorted[to].Block == sorted[from].Block {
				to++
			}
			if !yield(sorted[from:to]) {
				return
			}
			from = to
		}
	}
}

// recalibrate finds the slope by Newton's steps; ok is false when they do not settle, as
// where the chances separate the outcomes or are all the same.
func recalibrate(cases []OutcomeCase) (slope float64, ok bool) {
	a, b := 0.0, 1.0
	for range 50 {
		var ga, gb, haa, hab, hbb float64
		for _, c := range cases {
			x := logit(c.Said[0])
			p := 1 / (1 + math.Exp(-a-b*x))
			w := p * (1 - p)
			ga += c.worked() - p
			gb += (c.worked() - p) * x
			haa += w
			hab += w * x
			hbb += w * x * x
		}
		det := haa*hbb - hab*hab
		if !(det > 1e-9*haa*hbb) {
			return 0, false
		}
		da, db := (hbb*ga-hab*gb)/det, (haa*gb-hab*ga)/det
		a, b = a+da, b+db
		if math.Abs(da)+math.Abs(db) < 1e-9 {
			return b, true
		}
		if math.Abs(b) > 100 {
			return 0, false
		}
	}
	return 0, false
}

func logit(p float64) float64 {
	p = min(max(p, edge), 1-edge)
	return math.Log(p / (1 - p))
}
