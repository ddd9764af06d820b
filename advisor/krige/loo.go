package krige

import "waterstrike/advisor/variogram"

// LeaveOneOut predicts every datum of the last Fit from all the others, in closed
// form,
//
//	zᵢ - ẑᵢ = [Qz]ᵢ / Qᵢᵢ,  variance = 1/Qᵢᵢ - eᵢ,
//
// with Q the data's block of the inverse of the bordered kriging matrix and e the
// error variances: as everywhere, the variance is that of the ground. To judge a
// reading by it, add the reading's own error variance.
//
//   - Shapes: one estimate per datum, in their order.
//   - Units: as [Solver.Predict].
//   - Errors: [*TooFewError] without a successful fit of more data than terms, or
//     when one datum alone determines a slope.
//   - Cost: O(n³/6).
//   - Source: Dubrule (1983), Math. Geology 15, 687-699.
//   - Checked by: TestLeaveOneOutReference, TestLeaveOneOutIsRefit.
func (s *Solver) LeaveOneOut() ([]Estimate, error) {
	n, q := s.l.n, len(s.beta)
	if n < q+1 || n == 0 {
		return nil, &TooFewError{Have: n, Need: q + 1}
	}
	residual := s.residual()
	out := make([]Estimate, n)
	column, terms := make([]float64, n), make([]float64, q)
	for i := range out {
		clear(column)
		column[i] = 1
		s.l.sweep(column, n)
		for k := range terms {
			terms[k] = dot(column, s.row(k))
		}
		s.small.sweep(terms, q)
		free := dot(column, column)
		qii := free - dot(terms, terms)
		if !(qii*variogram.MaxCondition > free) {
			return nil, &TooFewError{Have: n, Need: n + 1} // the others do not determine the trend
		}
		observed := s.observed(i)
		out[i].Mean = observed - dot(column, residual)/qii
		out[i].Variance = max(0, 1/qii-s.errVar[i]) // at most the rounding of one difference
	}
	return out, nil
}

// residual is L⁻¹(z - Fb) for the generalised least-squares coefficients b.
func (s *Solver) residual() []float64 {
	q := len(s.beta)
	r := append([]float64(nil), s.row(q)...)
	b := append([]float64(nil), s.beta...)
	s.small.sweepBack(b)
	for k, v := range b {
		for i, g := range s.row(k) {
			r[i] -= v * g
		}
	}
	return r
}

// observed multiplies the factor back onto the swept values.
func (s *Solver) observed(i int) float64 {
	return dot(s.l.row(i), s.row(len(s.beta))[:i+1]) + s.shift
}
