package variogram

import "math"

// exponentialPractical solves exp(-x) = 0.05.
const exponentialPractical = 2.995732273553991

// Exponential is the Matérn model of smoothness 1/2,
//
//	C(h) = c exp(-h/a).
//
// Source: Stein (1999), Interpolation of spatial data, section 2.7.
type Exponential struct {
	psill, a float64
}

// NewExponential returns an exponential model.
//
//   - Units: psill in squared value units, a in metres; Range is 2.9957 a.
//   - Errors: [*ParameterError] unless both are finite and above 0.
//   - Source: [Exponential].
func NewExponential(psill, a float64) (Exponential, error) {
	return Exponential{psill, a}, checkPair(psill, a)
}

// Name is "exponential".
func (m Exponential) Name() string { return string(FamilyExponential) }

// Sill is the partial sill given, approached but never reached.
func (m Exponential) Sill() float64 { return m.psill }

// Range is where 95 % of the sill is reached.
func (m Exponential) Range() float64 { return exponentialPractical * m.a }

// Cov is the covariance at distance h.
func (m Exponential) Cov(h float64) float64 { return m.psill * expNeg(h/m.a) }

// Gamma is the semivariance at distance h.
func (m Exponential) Gamma(h float64) float64 { return -m.psill * math.Expm1(-h/m.a) }

// AddCov adds the covariances at h to dst.
func (m Exponential) AddCov(dst, h []float64) {
	dst = dst[:len(h)]
	inv := 1 / m.a
	for i, hi := range h {
		dst[i] += m.psill * expNeg(hi*inv)
	}
}
