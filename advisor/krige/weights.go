package krige

// Weights returns the weights of the last prediction, in the order of the data,
//
//	λ = L'⁻¹ (u + G T'⁻¹ t).
//
// The symbols are those of [Solver.Predict].
//
//   - Shapes: as many as data; empty before a prediction. Valid until the next call.
//   - Units: none. They sum to 1 when the mean is unknown and may be negative.
//   - Errors: none.
//   - Cost: O(n²/2), no allocation.
//   - Source: as [Solver.Fit].
//   - Checked by: TestWeightsReference, TestLaws.
func (s *Solver) Weights() []float64 {
	s.weights = s.weights[:0]
	if !s.predicted {
		return s.weights
	}
	s.weights = append(s.weights, s.row(len(s.beta)+1)...)
	copy(s.slopes, s.nu)
	s.small.sweepBack(s.slopes)
	for k, v := range s.slopes {
		for i, g := range s.row(k) {
			s.weights[i] += v * g
		}
	}
	s.l.sweepBack(s.weights)
	return s.weights
}
