package variogram

import "math"

// XY is a position in a projected plane, in metres.
type XY struct {
	X, Y float64
}

// DistanceTo returns the straight distance to q in metres.
func (p XY) DistanceTo(q XY) float64 {
	dx, dy := p.X-q.X, p.Y-q.Y
	return math.Sqrt(dx*dx + dy*dy)
}

// Finite tells whether both coordinates are ordinary numbers.
func (p XY) Finite() bool { return finite(p.X) && finite(p.Y) }

// Model is an isotropic covariance model of a second-order stationary field.
//
// With sill s, covariance C and semivariance γ at distance h >= 0 in metres,
//
//	γ(h) = s - C(h),  C(0) = s,
//
// in the squared unit of the values. Models are immutable and safe for
// concurrent use.
type Model interface {
	// Name is the family's name, or the names of the parts joined by "+".
	Name() string
	// Sill is the variance of the field, micro-scale included.
	Sill() float64
	// Range is the practical range in metres: where the correlated part has
	// reached its sill (bounded families) or 95 % of it.
	Range() float64
	// Cov is the covariance at distance h.
	Cov(h float64) float64
	// Gamma is the semivariance at distance h.
	Gamma(h float64) float64
	// AddCov adds Cov(h[i]) to dst[i] for every i < len(h). The slices must not
	// overlap and len(dst) >= len(h). It exists because one call per pair would
	// cost as much as the covariance itself.
	AddCov(dst, h []float64)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func positive(name string, v float64) error {
	if !finite(v) || v <= 0 {
		return &ParameterError{Name: name, Value: v, Want: "a finite number above 0"}
	}
	return nil
}

func notNegative(name string, v float64) error {
	if !finite(v) || v < 0 {
		return &ParameterError{Name: name, Value: v, Want: "a finite number, 0 or above"}
	}
	return nil
}

// checkPair checks the two parameters that every family has.
func checkPair(psill, a float64) error {
	if err := positive("partial sill", psill); err != nil {
		return err
	}
	return positive("range parameter", a)
}
