package krige

import (
	"math"

	"waterstrike/advisor/variogram"
)

// sharedMost is the most data, in multiples of Nearest, that cells may share: beyond, a
// system of its own for each cell is cheaper.
const sharedMost = 3

// PredictTogether predicts several places near each other from one system: the data
// that are nearest to their middle, as far out as the nearest of any of them may lie.
// Each answer is the kriging estimate from those data, and its variance that estimate's
// own; it differs from Predict's as another choice of neighbours does.
//
//   - Shapes: one estimate for each place is written to dst, which is as long; drift
//     holds one slice for each place, or is nil for none.
//   - Units, Domain: as Predict.
//     For blocks about as wide as data are apart, variances are at most 1 % above
//     Predict's and, without drift, means within 0.1 of its standard deviations (rough
//     models) to 0.3 (smooth ones); with a drift that few neighbours tell badly the
//     shared data, being more, tell it better: variances fall by up to a quarter.
//     Places farther apart than sharing pays, and neighbourhoods with sectors or a
//     distance limit, are predicted one by one.
//   - Errors: as Predict, for the first place that has one.
//   - Cost: nine places take about a third of nine times Predict; see BenchmarkTogether.
//   - Source: as [Solver.Fit].
//   - Checked by: TestTogetherIsNearPredict, TestTogetherFallsBack.
func (p *Predictor) PredictTogether(dst []Estimate, at []XY, drift [][]float64) error {
	if len(dst) != len(at) || drift != nil && len(drift) != len(at) {
		return &variogram.ParameterError{Name: "number of places", Value: float64(len(at)), Want: "as many as estimates and drifts"}
	}
	one := p.predictOne
	if p.share(at) {
		if err := p.solver.Fit(p.data); err != nil {
			return p.named(err)
		}
		one = p.solver.Predict
	}
	for i := range at {
		var d []float64
		if drift != nil {
			d = drift[i]
		}
		e, err := one(p.local.hood.Anisotropy.Reduce(at[i]), d...)
		if err != nil {
			return err
		}
		dst[i] = e
	}
	return nil
}

// predictOne predicts a reduced point.
func (p *Predictor) predictOne(at XY, drift ...float64) (Estimate, error) {
	return p.predict(at, -1, drift)
}

// share collects the data for all places at once, if that pays.
func (p *Predictor) share(at []XY) bool {
	hood := p.local.hood
	middle, radius := p.around(at)
	if len(at) < 2 || hood.Sectors > 1 || hood.DistanceM > 0 || !finite(radius) {
		return false
	}
	most := sharedMost * hood.Nearest
	found := p.query.Nearest(middle.X, middle.Y, most+1, -1, math.Inf(1))
	if len(found) < max(hood.Nearest, hood.AtLeast) {
		return false
	}
	reach := math.Sqrt(found[hood.Nearest-1].D2) + radius
	p.data, p.ids = p.data[:0], p.ids[:0]
	for _, f := range found {
		if f.D2 > reach*reach {
			break
		}
		p.take(f)
	}
	return len(p.ids) <= most
}

// around is the middle of the places' box and the distance to the farthest of them, in
// the reduced plane.
func (p *Predictor) around(at []XY) (middle XY, radius float64) {
	lo, hi := XY{X: math.Inf(1), Y: math.Inf(1)}, XY{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, a := range at {
		r := p.local.hood.Anisotropy.Reduce(a)
		lo, hi = XY{X: min(lo.X, r.X), Y: min(lo.Y, r.Y)}, XY{X: max(hi.X, r.X), Y: max(hi.Y, r.Y)}
	}
	middle = XY{X: lo.X + (hi.X-lo.X)/2, Y: lo.Y + (hi.Y-lo.Y)/2}
	for _, a := range at {
		radius = max(radius, middle.DistanceTo(p.local.hood.Anisotropy.Reduce(a)))
	}
	return middle, radius
}
