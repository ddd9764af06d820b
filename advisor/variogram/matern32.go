package variogram

import "math"

// matern32Practical solves (1 + x) exp(-x) = 0.05.
const matern32Practical = 4.743864518390577

// Matern32 is the Matérn model of smoothness 3/2, whose surfaces have a slope,
//
//	C(h) = c (1 + h/a) exp(-h/a).
//
// Source: Stein (1999), Interpolation of spatial data, section 2.7, eq. 14, with
// the distance scaled by a alone.
type Matern32 struct {
	psill, a float64
}

// NewMatern32 returns a Matérn model of smoothness 3/2.
//
//   - Units: psill in squared value units, a in metres; Range is 4.7439 a.
//   - Errors: [*ParameterError] unless both are finite and above 0.
//   - Source: [Matern32].
func NewMatern32(psill, a float64) (Matern32, error) {
	return Matern32{psill, a}, checkPair(psill, a)
}

// Name is "matern32".
func (m Matern32) Name() string { return string(FamilyMatern32) }

// Sill is the partial sill given, approached but never reached.
func (m Matern32) Sill() float64 { return m.psill }

// Range is where 95 % of the sill is reached.
func (m Matern32) Range() float64 { return matern32Practical * m.a }

// Cov is the covariance at distance h.
func (m Matern32) Cov(h float64) float64 {
	r := h / m.a
	return m.psill * (1 + r) * expNeg(r)
}

// Gamma is the semivariance at distance h.
func (m Matern32) Gamma(h float64) float64 {
	r := h / m.a
	return m.psill * (-math.Expm1(-r) - r*math.Exp(-r))
}

// AddCov adds the covariances at h to dst.
func (m Matern32) AddCov(dst, h []float64) {
	dst = dst[:len(h)]
	inv := 1 / m.a
	for i, hi := range h {
		r := hi * inv
		dst[i] += m.psill * (1 + r) * expNeg(r)
	}
}
