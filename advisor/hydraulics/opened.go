package hydraulics

import "math"

// TBelief is what is believed of the transmissivity behind a screen.
type TBelief struct {
	Log10M2D  float64 // middle of log10 T, T in m²/d
	SDDecades float64
}

// Passes returns the chance that T is at least as much as is needed.
//
//   - Units: m²/d; result in [0,1].
//   - Domain: neededM2D above 0 (else 1); infinite needs have chance 0.
//   - Source: log-normal T.
//   - Checked by: TestTransmissivityAgainstDraws.
func (b TBelief) Passes(neededM2D float64) float64 {
	if !(neededM2D > 0) {
		return 1
	}
	return math.Erfc((math.Log10(neededM2D)-b.Log10M2D)/(b.SDDecades*math.Sqrt2)) / 2
}

// Transmissivity returns what is believed of the sum T = Σ K b over intervals whose K are
// log-normal and independent: the log-normal of the same mean and variance. Many thin
// layers of one spread make a surer T than one thick one.
//
//   - Shapes: at least one interval; neighbouring cells of one layer belong in one.
//   - Units: metres; T in m²/d.
//   - Domain: thicknesses above 0; c may be nil. Beyond about a decade of spread the low
//     tail of the sum is too heavy.
//   - Errors: [InputError], [ErrTooFew] without an interval, [ErrNoAnswer].
//   - Source: Fenton (1960), sums of log-normal variables.
//   - Checked by: TestTransmissivityOfOne, TestTransmissivityAgainstDraws.
func (c *Conductivities) Transmissivity(open []Interval) (TBelief, error) {
	if len(open) == 0 {
		return TBelief{}, ErrTooFew
	}
	var m, v float64
	for _, i := range open {
		if err := positive(named{"thickness", i.ThickM}); err != nil {
			return TBelief{}, err
		}
		k := c.Of(i.Class, i.Grade, i.Clayey)
		variance := math.Ln10 * math.Ln10 * k.SDDecades * k.SDDecades
		one := i.ThickM * k.MetresPerDay() * math.Exp(variance/2)
		m, v = m+one, v+one*one*math.Expm1(variance)
	}
	variance := math.Log1p(v / (m * m))
	b := TBelief{(math.Log(m) - variance/2) / math.Ln10, math.Sqrt(variance) / math.Ln10}
	_, err := finite(b.Log10M2D + b.SDDecades)
	return b, err
}
