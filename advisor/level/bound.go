package level

import (
	"math"

	"waterstrike/advisor/krige"
)

// boundError is the chance that a dry hole says nothing about the level: it was left too
// soon, or the words are wrong.
const boundError = 0.1

// rounds of bounds in a fit: their data move little after.
const rounds = 3

// vast is the error variance of a bound before anything is known of it.
const vast = 1e6

// withDry adds the dry holes to the readings of a fit. Each is a datum that carries what
// its bound adds to what all others say; so they are found in rounds.
func (f *fitting) withDry(data []krige.Datum) ([]krige.Datum, error) {
	solver, err := f.solver()
	if err != nil {
		return nil, err
	}
	readings := len(data)
	bounds := make([]float64, len(f.dry))
	for i, o := range f.dry {
		bounds[i] = f.scale.z(o.bound(f.season))
		data = append(data, krige.Datum{XY: o.At, Value: bounds[i], ErrVar: vast, Drift: f.trend.drift(o.Land)})
	}
	if len(bounds) == 0 {
		return data, nil
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
			d := &data[readings+i]
			d.Value, d.ErrVar = bound, vast
			value, errVar, informs := boundDatum(without[readings+i].Mean, without[readings+i].Variance, bound)
			if informs && errVar < vast {
				d.Value, d.ErrVar = value, errVar
			}
		}
	}
	return data, nil
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
