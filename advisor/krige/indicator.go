package krige

import "waterstrike/advisor/variogram"

// Kriged indicators are weighted sums with weights that may be negative: they may leave
// [0, 1] and contradict each other. The two rules here put them right.

// OrderShares makes shares of a whole of kriged indicators of classes, of which exactly
// one holds at any place: each is brought into [0, 1], then all are divided by their
// sum. It works in place.
//
//   - Shapes: one number for each class.
//   - Units: parts of 1.
//   - Errors: [variogram.ErrNotFinite]; [variogram.ErrNoVariation] when none is above 0.
//   - Source: Deutsch and Journel (1998), GSLIB, section IV.1.10; gstat's order = 3.
//   - Checked by: TestLesson6OrderCorrection.
func OrderShares(p []float64) error {
	sum := 0.0
	for i, v := range p {
		if !finite(v) {
			return variogram.ErrNotFinite
		}
		p[i] = min(max(v, 0), 1)
		sum += p[i]
	}
	if sum == 0 {
		return variogram.ErrNoVariation
	}
	for i := range p {
		p[i] /= sum
	}
	return nil
}

// OrderCumulative makes chances of not exceeding rising thresholds of kriged indicators:
// each is brought into [0, 1], then set to the mean of the greatest so far and the least
// still to come, which never fall. It works in place.
//
//   - Shapes: one number for each threshold, lowest first.
//   - Units: parts of 1.
//   - Errors: [variogram.ErrNotFinite].
//   - Source: Deutsch and Journel (1998), GSLIB, section IV.1.10; gstat's order = 4.
//   - Checked by: TestLesson6OrderCorrection.
func OrderCumulative(p []float64) error {
	rising := make([]float64, len(p))
	most := 0.0
	for i, v := range p {
		if !finite(v) {
			return variogram.ErrNotFinite
		}
		p[i] = min(max(v, 0), 1)
		most = max(most, p[i])
		rising[i] = most
	}
	least := 1.0
	for i := len(p) - 1; i >= 0; i-- {
		least = min(least, p[i])
		p[i] = (rising[i] + least) / 2
	}
	return nil
}
