package hydraulics

import "math"

// besselK returns the modified Bessel functions of the second kind of order 0 and 1, both
// times eˣ so that their ratio lives at any x,
//
//	K₀(x) = ∫₀^∞ exp(-x cosh t) dt,  K₁(x) = ∫₀^∞ exp(-x cosh t) cosh t dt,
//
// by the trapezoidal rule, whose error falls as fast as the integrand for one that dies
// like this. Beyond x of 1e-100 to 1e12, where no well is, both are NaN.
//
// Source: Abramowitz and Stegun (1964), 9.6.24.
func besselK(x float64) (k0, k1 float64) {
	if !(x > 1e-100 && x < 1e12) {
		return math.NaN(), math.NaN()
	}
	h := min(0.25, 0.5/math.Sqrt(x))
	k0, k1 = 0.5, 0.5
	for t := h; ; t += h {
		c := math.Cosh(t)
		e := math.Exp(-x * (c - 1))
		k0 += e
		k1 += e * c
		if e*c < 1e-17*k1 {
			return h * k0, h * k1
		}
	}
}
