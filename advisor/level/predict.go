package level

import (
	"math"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// Statement is the answer at one point.
type Statement struct {
	Distribution
	Shares []float64 // of each observation in the answer, absolute and adding up to 1
}

// boundError is the chance that a dry hole says nothing about the level: it was left too
// soon, or the words are wrong.
const boundError = 0.1

// Predict states the dry-season low at a point from the observations around it.
//
// Rest levels and flowing bores are kriged with an unknown mean. Each dry hole then
// becomes one more datum: the Normal that carries what the bound adds to what its
// neighbours already say,
//
//	likelihood (1-ε) P(y > D) + ε,
//
// matched by mean and variance. Leaving dry holes out would make the map shallow.
//
//   - Shapes: the nearest observations in any order, in one plane; Shares in their order.
//   - Units: metres; the distribution as [Distribution] says.
//   - Domain: at least 2 observations that are not dry holes.
//   - Errors: [krige.TooFewError] and the other errors of [krige.Solver.Fit].
//   - Source: ordinary kriging, Chilès and Delfiner (2012) section 3.4; moment matching
//     of a bound, Minka (2001), assumed-density filtering.
func (m *Model) Predict(near []Observation, at variogram.XY) (Statement, error) {
	solver, err := krige.NewSolver(m.structure, krige.Ordinary{})
	if err != nil {
		return Statement{}, err
	}
	data, place := m.readings(near)
	if err := solver.Fit(data); err != nil {
		return Statement{}, err
	}
	bounded, boundedPlace, err := m.bounds(solver, near)
	if err != nil {
		return Statement{}, err
	}
	if len(bounded) > 0 {
		data, place = append(data, bounded...), append(place, boundedPlace...)
		if err := solver.Fit(data); err != nil {
			return Statement{}, err
		}
	}
	estimate, err := solver.Predict(at)
	if err != nil {
		return Statement{}, err
	}
	return Statement{
		Distribution: Distribution{
			MeanLog:  estimate.Mean,
			FieldVar: max(estimate.Variance-m.micro, 0),
			MicroVar: min(m.micro, estimate.Variance),
			ShiftM:   m.scale.shift,
			season:   m.season,
		},
		Shares: shares(solver.Weights(), place, len(near)),
	}, nil
}

func (m *Model) readings(near []Observation) (data []krige.Datum, place []int) {
	for i, o := range near {
		if o.State != DryTo {
			data, place = append(data, m.datum(o)), append(place, i)
		}
	}
	return data, place
}

// bounds turns dry holes into data, given a solver fitted to the readings.
func (m *Model) bounds(solver *krige.Solver, near []Observation) (data []krige.Datum, place []int, err error) {
	for i, o := range near {
		if o.State != DryTo {
			continue
		}
		prior, err := solver.Predict(o.At)
		if err != nil {
			return nil, nil, err
		}
		value, errVar, informs := boundDatum(prior.Mean, prior.Variance, m.scale.z(o.bound(m.season)))
		if informs {
			data = append(data, krige.Datum{XY: o.At, Value: value, ErrVar: errVar})
			place = append(place, i)
		}
	}
	return data, place, nil
}

// boundDatum returns the Normal datum that moves N(mean, variance) to the mean and
// variance it has once z > bound is known with error boundError; informs is false when
// the bound adds nothing.
func boundDatum(mean, variance, bound float64) (value, errVar float64, informs bool) {
	if !(variance > 0) {
		return 0, 0, false
	}
	sd := math.Sqrt(variance)
	a := (bound - mean) / sd
	above := math.Erfc(a/math.Sqrt2) / 2 // P(z > bound)
	density := math.Exp(-a*a/2) / math.Sqrt(2*math.Pi)
	total := (1-boundError)*above + boundError
	first := (1 - boundError) * density / total // of (z-mean)/sd
	second := ((1-boundError)*(above+a*density) + boundError) / total
	after := (second - first*first) * variance
	if !(after < variance*(1-1e-9)) {
		return 0, 0, false
	}
	errVar = 1 / (1/after - 1/variance)
	value = errVar * ((mean+sd*first)/after - mean/variance)
	return value, errVar, true
}

func shares(weights []float64, place []int, n int) []float64 {
	out := make([]float64, n)
	total := 0.0
	for _, w := range weights {
		total += math.Abs(w)
	}
	for i, w := range weights {
		out[place[i]] = math.Abs(w) / total
	}
	return out
}
