package hydraulics

import "math"

// Well is a well whose own water counts.
type Well struct {
	RadiusM     float64 // of the hole where the ground gives water
	OpenRadiusM float64 // of the water surface that falls: the inside of the pipe
}

func (w Well) check() error {
	return positive(named{"radius", w.RadiusM}, named{"open radius", w.OpenRadiusM})
}

// StoredWell returns the drawdown in a pumped well that gives of its own water first. Its
// Laplace transform is
//
//	s̄(p) = (Q/p) K₀(x) / (2πT x K₁(x) + πr² p K₀(x)),  x = R √(pS/T),
//
// with R the radius of the hole and r that of the water surface in it.
//
//   - Units: m³/d, m, d; result in m.
//   - Domain: every input above 0; confined ground, no losses at the screen.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Cost: 14 pairs of Bessel functions.
//   - Source: Papadopulos and Cooper (1967); inversion by Stehfest (1970), five digits.
//   - Checked by: TestStoredWellEndsAsTheis, TestStoredWellBeginsAsBucket,
//     TestStoredWellAgainstPapadopulosCooper.
func StoredWell(a Aquifer, w Well, dischargeM3D, days float64) (float64, error) {
	if err := a.check(dischargeM3D, w.RadiusM, days); err != nil {
		return 0, err
	}
	if err := w.check(); err != nil {
		return 0, err
	}
	return finite(dischargeM3D * a.stored(w, days))
}

// stored is the drawdown per discharge of numbers already checked.
func (a Aquifer) stored(w Well, days float64) float64 {
	return invert(func(p float64) float64 { return a.response(w, p) / p }, days)
}

// response is the transform of the drawdown by a unit of water taken out at once.
func (a Aquifer) response(w Well, p float64) float64 {
	x := w.RadiusM * math.Sqrt(p*a.Storage/a.TM2D)
	k0, k1 := besselK(x)
	return k0 / (2*math.Pi*a.TM2D*x*k1 + math.Pi*w.OpenRadiusM*w.OpenRadiusM*p*k0)
}

// Slug returns the share of a sudden displacement of the water in a well that is left
// after a time.
//
//   - Units: d; result dimensionless, 1 at the start and falling to 0.
//   - Domain: every input above 0; confined ground, a screen over its whole thickness.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Source: Cooper, Bredehoeft and Papadopulos (1967); inversion by Stehfest (1970).
//   - Checked by: TestSlugAgainstTable.
func Slug(a Aquifer, w Well, days float64) (float64, error) {
	if err := a.check(1, w.RadiusM, days); err != nil {
		return 0, err
	}
	if err := w.check(); err != nil {
		return 0, err
	}
	left := invert(func(p float64) float64 { return a.response(w, p) }, days)
	return finite(left * math.Pi * w.OpenRadiusM * w.OpenRadiusM)
}
