package variogram

// Merge makes one reading of several of the same thing: the mean of the exact ones if
// there are any, which know better than all others; else the mean weighted by inverse
// error variance,
//
//	z = Σ zᵢ/eᵢ / Σ 1/eᵢ,  e = 1 / Σ 1/eᵢ,
//
// which serves any model as well as the readings themselves. Exact readings that
// differ contradict each other; their plain mean is a rule, not a result.
//
//   - Shapes: one or more values; errorVar nil when all are exact, or one for each.
//   - Units: errorVar in squared value units.
//   - Errors: none; the inputs are finite and errorVar is not negative.
//   - Source: the weighted mean of independent readings, any textbook.
//   - Checked by: TestMerge, and by advisor/krige.
func Merge(values, errorVar []float64) (value, variance float64) {
	exact, sum := 0, 0.0
	for i, z := range values {
		if errorVar == nil || errorVar[i] == 0 {
			exact++
			sum += z
		}
	}
	if exact > 0 {
		return sum / float64(exact), 0
	}
	weights := 0.0
	for i, z := range values {
		weights += 1 / errorVar[i]
		sum += z / errorVar[i]
	}
	return sum / weights, 1 / weights
}
