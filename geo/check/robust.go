package check

import (
	"math"
	"slices"
)

// median returns the middle of at least one value and leaves the list as it was.
func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// deviation is the median absolute deviation from mid, scaled to the standard deviation
// of a normal law.
func deviation(values []float64, mid float64) float64 {
	const toNormal = 1.4826
	away := make([]float64, len(values))
	for i, v := range values {
		away[i] = math.Abs(v - mid)
	}
	return toNormal * median(away)
}
