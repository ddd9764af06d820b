package variogram

// Spherical is the model that reaches its sill exactly at its range a,
//
//	C(h) = c (1 - 1.5 h/a + 0.5 (h/a)³) for h < a, else 0.
//
// Source: Matheron (1963), Principles of geostatistics; valid in one to three
// dimensions.
type Spherical struct {
	psill, a float64
}

// NewSpherical returns a spherical model.
//
//   - Units: psill in squared value units, a in metres (equal to Range).
//   - Errors: [*ParameterError] unless both are finite and above 0.
//   - Source: [Spherical].
func NewSpherical(psill, a float64) (Spherical, error) {
	return Spherical{psill, a}, checkPair(psill, a)
}

// Name is "spherical".
func (m Spherical) Name() string { return string(FamilySpherical) }

// Sill is the partial sill given.
func (m Spherical) Sill() float64 { return m.psill }

// Range is where the sill is reached.
func (m Spherical) Range() float64 { return m.a }

// Cov is the covariance at distance h.
func (m Spherical) Cov(h float64) float64 { return m.psill - m.Gamma(h) }

// Gamma is the semivariance at distance h.
func (m Spherical) Gamma(h float64) float64 {
	if h >= m.a {
		return m.psill
	}
	r := h / m.a
	return m.psill * r * (1.5 - 0.5*r*r)
}

// AddCov adds the covariances at h to dst.
func (m Spherical) AddCov(dst, h []float64) {
	dst = dst[:len(h)]
	inv := 1 / m.a
	for i, hi := range h {
		if r := hi * inv; r < 1 {
			dst[i] += m.psill * (1 - r*(1.5-0.5*r*r))
		}
	}
}
