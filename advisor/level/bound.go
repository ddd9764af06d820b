package level

import (
	"math"

	"waterstrike/advisor/krige"
)

// boundError is the chance that a bound says nothing about the level: a dry hole was left
// too soon, a well was dug deeper since, or the words are wrong.
const boundError = 0.1

// rounds of bounds in a fit: their data move little after.
const rounds = 3

// vast is the error variance of a bound before anything is known of it.
const vast = 1e6

// interval is what a bound says on the scale, with the variance of its ends.
type interval struct{ lo, hi, errVar float64 }

// on carries the bound of an observation to the scale; ends that bound nothing stay
// infinite.
func (s scale) on(o Observation, season Season) interval {
	shallowest, deepest := o.between(season)
	out := interval{math.Inf(-1), math.Inf(1), 0}
	if !math.IsInf(shallowest, 0) {
		out.lo = s.z(shallowest)
		out.errVar = o.boundVar(s, season, shallowest)
	}
	if !math.IsInf(deepest, 0) {
		out.hi = s.z(deepest)
		out.errVar = max(out.errVar, o.boundVar(s, season, deepest))
	}
	return out
}

// beside is the bound of what a trend leaves.
func (b interval) beside(trend float64) interval {
	return interval{b.lo - trend, b.hi - trend, b.errVar}
}

// withBounds adds the bounds to the readings of a fit. Each is a datum that carries what
// it adds to what all others say beside the trend as it is known so far; so they are found
// in rounds.
func (f *fitting) withBounds() ([]krige.Datum, error) {
	solver, err := krige.NewSolver(f.structure, krige.Ordinary{})
	if err != nil {
		return nil, err
	}
	data, _ := f.readings(f.stated)
	readings := len(data)
	bounds := make([]interval, len(f.bounded))
	for i, o := range f.bounded {
		trend, _ := f.trend.at(o.Land)
		bounds[i] = f.scale.on(o, f.season).beside(trend)
		data = append(data, krige.Datum{XY: o.At, ErrVar: vast})
	}
	for range rounds {
		if err := solver.Fit(data); err != nil {
			return nil, err
		}
		without, err := solver.LeaveOneOut()
		if err != nil {
			return nil, err
		}
		for i, bound := range bounds {
			d, said := &data[readings+i], without[readings+i]
			d.Value, d.ErrVar = said.Mean, vast
			value, errVar, informs := boundDatum(said.Mean, said.Variance, bound)
			if informs && errVar < vast {
				d.Value, d.ErrVar = value, errVar
			}
		}
	}
	return data, nil
}

// boundDatum returns the Normal datum that moves N(mean, variance) to the mean and
// variance it has once lo < z < hi is known with error boundError; informs is false when
// the bound adds nothing.
//
// With x = (z + error of the bound - mean)/s of standard deviation 1, s² = v + e, and the
// moments m₁, m₂ of x under the bound, z has the mean  mean + v m₁/s  and the variance
// v - v²/s² (1 - m₂ + m₁²).
func boundDatum(mean, v float64, bound interval) (value, errVar float64, informs bool) {
	if !(v > 0) {
		return 0, 0, false
	}
	s := math.Sqrt(v + bound.errVar)
	above, densityLo, leverLo := tail((bound.lo - mean) / s)
	beyond, densityHi, leverHi := tail((bound.hi - mean) / s)
	total := (1-boundError)*(above-beyond) + boundError
	first := (1 - boundError) * (densityLo - densityHi) / total
	second := ((1-boundError)*(above-beyond+leverLo-leverHi) + boundError) / total
	after := v - v*v/(s*s)*(1-second+first*first)
	if !(after < v*(1-1e-9)) || !(after > 0) {
		return 0, 0, false
	}
	errVar = 1 / (1/after - 1/v)
	value = errVar * ((mean+v*first/s)/after - mean/v)
	return value, errVar, true
}

// tail returns P(x > a) of the standard Normal, its density at a and a times that; 1, 0, 0
// and 0, 0, 0 at the infinities.
func tail(a float64) (above, density, lever float64) {
	above = math.Erfc(a/math.Sqrt2) / 2
	density = math.Exp(-a*a/2) / math.Sqrt(2*math.Pi)
	if density > 0 {
		lever = a * density
	}
	return above, density, lever
}
