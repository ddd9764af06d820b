package level

import (
	"math"
	"slices"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// Statement is the answer at one point.
type Statement struct {
	Distribution
	Shares []float64 // of each observation in the answer, absolute and adding up to 1
}

// Predict states the dry-season low at a point from the observations around it.
//
// What rest levels and flowing bores say beside the trend is kriged with an unknown mean,
// and the trend at the point added with what is not known of it. Each dry hole, and each
// well with its dry months, then becomes one more datum: the Normal that carries what the
// bound adds to what its neighbours already say,
//
//	likelihood (1-ε) P(a < y < b) + ε,
//
// matched by mean and variance. Leaving dry holes out would make the map shallow.
//
//   - Shapes: the nearest observations in any order, in one plane; Shares in their order.
//   - Units: metres; the distribution as [Distribution] says.
//   - Domain: at least 2 observations that are no bounds.
//   - Errors: [krige.TooFewError] and the other errors of [krige.Solver.Fit].
//   - Source: ordinary kriging, Chilès and Delfiner (2012) section 3.4; moment matching
//     of a bound, Minka (2001), assumed-density filtering.
func (m *Model) Predict(near []Observation, at variogram.XY, land Land) (Statement, error) {
	a, err := m.solve(near, at, land)
	return a.Statement, err
}

// answer is a statement with what its error is made of.
type answer struct {
	Statement
	weights []float64 // of the data
	place   []int     // of each datum, among the observations
	errVars []float64 // of each datum
	beside  []float64
	shared  shared
	extra   float64 // variance where the land is not known
	wider   float64 // factor of all variances but the shared ones
}

func (m *Model) solve(near []Observation, at variogram.XY, land Land) (answer, error) {
	solver, err := krige.NewSolver(m.structure, krige.Ordinary{})
	if err != nil {
		return answer{}, err
	}
	data, place := m.readings(near)
	if err := solver.Fit(data); err != nil {
		return answer{}, err
	}
	bounded, boundedPlace, err := m.bounds(solver, near)
	if err != nil {
		return answer{}, err
	}
	if len(bounded) > 0 {
		data, place = append(data, bounded...), append(place, boundedPlace...)
		if err := solver.Fit(data); err != nil {
			return answer{}, err
		}
	}
	estimate, err := solver.Predict(at)
	if err != nil {
		return answer{}, err
	}
	a := answer{weights: slices.Clone(solver.Weights()), place: place, errVars: make([]float64, len(data))}
	for i, d := range data {
		a.errVars[i] = d.ErrVar
	}
	trend, extra := m.trend.at(land)
	a.extra = extra
	a.beside = m.beside(land, near, a.weights, place)
	a.shared = m.shared(near, a.weights, place)
	a.wider = m.doubt.at(m.trend.unusual(land))
	a.Statement = Statement{
		Distribution: Distribution{
			Mean:     estimate.Mean + trend,
			FieldVar: a.wider*(max(estimate.Variance-m.micro, 0)+extra+m.trend.uncertainty(a.beside)) + m.season.variance(a.shared),
			MicroVar: a.wider * min(m.micro, estimate.Variance),
			shared:   m.season.variance(a.shared),
			scale:    m.scale,
			season:   m.season,
		},
		Shares: shares(a.weights, place, len(near)),
	}
	return a, nil
}

// beside returns the terms of a place less those of the data by their weights: where they
// are alike it does not matter how well the slopes are known.
func (m *Model) beside(land Land, near []Observation, weights []float64, place []int) []float64 {
	d := m.trend.row(land)
	for i, w := range weights {
		for k, x := range m.row(&near[place[i]]) {
			d[k] -= w * x
		}
	}
	return d
}

// shared is what all readings around err by alike, on the scale: by the yearly range there
// that they were carried by, by the course as it was learnt, and by the years, which may all
// have been dry ones. Many readings do not average it out.
type shared struct {
	course, years float64     // standard deviations
	months        [12]float64 // how much a metre over the low between two months counts
}

func (m *Model) shared(near []Observation, weights []float64, place []int) (out shared) {
	rangeSDM := m.season.RangeSDM
	if m.season.Identified {
		rangeSDM = fromPlace * m.season.RangeM // the rest of it is in the months
	}
	for i, w := range weights {
		o := &near[place[i]]
		if o.State != Rest {
			continue
		}
		c := m.carried(o)
		metre := w * c.perMetre
		out.course += metre * c.rise * c.share * rangeSDM
		out.years += metre * c.yearShare * m.season.NormalSDM
		for k, part := range c.months {
			out.months[k] += metre * c.share * part
		}
	}
	return out
}

// variance is that of what a shared error amounts to.
func (s Season) variance(e shared) float64 {
	v := e.course*e.course + e.years*e.years
	for i, a := range e.months {
		for j, b := range e.months {
			v += a * b * s.riseCov[i][j]
		}
	}
	return v
}

func (m *Model) readings(near []Observation) (data []krige.Datum, place []int) {
	for i := range near {
		if o := &near[i]; !o.IsBound() {
			data, place = append(data, m.datum(o)), append(place, i)
		}
	}
	return data, place
}

// bounds turns dry holes and wells into data, given a solver fitted to the readings.
func (m *Model) bounds(solver *krige.Solver, near []Observation) (data []krige.Datum, place []int, err error) {
	for i, o := range near {
		if !o.IsBound() {
			continue
		}
		prior, err := solver.Predict(o.At)
		if err != nil {
			return nil, nil, err
		}
		trend, extra := m.trend.at(o.Land)
		value, errVar, informs := boundDatum(prior.Mean, prior.Variance+extra, m.scale.on(o, m.season).beside(trend))
		if informs {
			data = append(data, krige.Datum{XY: o.At, Value: value, ErrVar: errVar + extra})
			place = append(place, i)
		}
	}
	return data, place, nil
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
