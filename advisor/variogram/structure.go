package variogram

import "strings"

// Structure is a sum of models and a micro-scale variance,
//
//	C(h) = Σ Cₖ(h) for h > 0,  C(0) = micro + Σ Cₖ(0).
//
// The micro-scale variance is real variation that a new bore meets; known reading
// error is not part of a structure (see the package comment).
type Structure struct {
	micro, sill, rangeM float64
	parts               []Model
}

// NewStructure returns the sum of parts and a micro-scale variance.
//
//   - Units: micro in squared value units.
//   - Domain: at least one part, or micro above 0 (pure micro-scale variation).
//   - Errors: [*ParameterError] for a negative or non-finite micro, a part without
//     sill, or a sill of 0.
//   - Source: Chilès and Delfiner (2012), Geostatistics, section 2.5 (nested models).
func NewStructure(micro float64, parts ...Model) (Structure, error) {
	s := Structure{micro: micro, sill: micro, parts: append([]Model(nil), parts...)}
	if err := notNegative("micro-scale variance", micro); err != nil {
		return Structure{}, err
	}
	for _, p := range parts {
		if err := positive("partial sill", p.Sill()); err != nil {
			return Structure{}, err
		}
		s.sill += p.Sill()
		s.rangeM = max(s.rangeM, p.Range())
	}
	return s, positive("sill", s.sill)
}

// Micro is the micro-scale variance.
func (s Structure) Micro() float64 { return s.micro }

// Name joins the names of the parts.
func (s Structure) Name() string {
	names := make([]string, 0, 1+len(s.parts))
	if s.micro > 0 {
		names = append(names, "micro")
	}
	for _, p := range s.parts {
		names = append(names, p.Name())
	}
	return strings.Join(names, "+")
}

// Sill is the sum of all variances, micro-scale included.
func (s Structure) Sill() float64 { return s.sill }

// Range is the longest practical range of the parts; 0 without parts.
func (s Structure) Range() float64 { return s.rangeM }

// Cov is the covariance at distance h; it jumps by the micro-scale variance at 0.
func (s Structure) Cov(h float64) float64 {
	sum := 0.0
	if h == 0 {
		sum = s.micro
	}
	for _, p := range s.parts {
		sum += p.Cov(h)
	}
	return sum
}

// Gamma is the semivariance at distance h.
func (s Structure) Gamma(h float64) float64 {
	if h == 0 {
		return 0
	}
	sum := s.micro
	for _, p := range s.parts {
		sum += p.Gamma(h)
	}
	return sum
}

// AddCov adds the covariances at h to dst.
func (s Structure) AddCov(dst, h []float64) {
	for _, p := range s.parts {
		p.AddCov(dst, h)
	}
	if s.micro == 0 {
		return
	}
	for i, hi := range h {
		if hi == 0 {
			dst[i] += s.micro
		}
	}
}
