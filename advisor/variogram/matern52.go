package variogram

import "math"

// matern52Practical solves (1 + x + x²/3) exp(-x) = 0.05.
const matern52Practical = 5.918649346310187

// Matern52 is the Matérn model of smoothness 5/2, whose surfaces bend without a
// kink,
//
//	C(h) = c (1 + h/a + (h/a)²/3) exp(-h/a).
//
// Source: Stein (1999), Interpolation of spatial data, section 2.7, eq. 14, with
// the distance scaled by a alone.
type Matern52 struct {
	psill, a float64
}

// NewMatern52 returns a Matérn model of smoothness 5/2.
//
//   - Units: psill in squared value units, a in metres; Range is 5.9186 a.
//   - Errors: [*ParameterError] unless both are finite and above 0.
//   - Source: [Matern52].
func NewMatern52(psill, a float64) (Matern52, error) {
	return Matern52{psill, a}, checkPair(psill, a)
}

// Name is "matern52".
func (m Matern52) Name() string { return string(FamilyMatern52) }

// Sill is the partial sill given, approached but never reached.
func (m Matern52) Sill() float64 { return m.psill }

// Range is where 95 % of the sill is reached.
func (m Matern52) Range() float64 { return matern52Practical * m.a }

// Cov is the covariance at distance h.
func (m Matern52) Cov(h float64) float64 {
	r := h / m.a
	if r > expMost { // r² could be infinite where the covariance is 0
		return 0
	}
	return m.psill * (1 + r + r*r/3) * expNeg(r)
}

// Gamma is the semivariance at distance h.
func (m Matern52) Gamma(h float64) float64 {
	r := h / m.a
	if r > expMost {
		return m.psill
	}
	return m.psill * (-math.Expm1(-r) - (r+r*r/3)*math.Exp(-r))
}

// AddCov adds the covariances at h to dst.
func (m Matern52) AddCov(dst, h []float64) {
	dst = dst[:len(h)]
	inv := 1 / m.a
	for i, hi := range h {
		if r := hi * inv; r <= expMost {
			dst[i] += m.psill * (1 + r + r*r*(1.0/3)) * expNeg(r)
		}
	}
}
