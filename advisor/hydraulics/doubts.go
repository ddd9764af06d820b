package hydraulics

import "math"

// When readings say little of a fit; common practice, no source, but for the sign of residuals
// that run together: Bartlett (1946), from memory, by whom a correlation of independent
// errors stays within 2/√n in 95 cases of 100.
const (
	fewReadings = 6    // fewer make a line that one wrong reading turns
	shortCycle  = 10.0 // a straight line over time should last from some time to ten times it
	unevenLeast = 0.5  // correlation of neighbouring residuals
	unevenShare = 0.01 // of the whole change: less is no matter
	tapeM       = 0.005
)

// doubts are the signs of readings that are few, and of residuals that run together for
// long: then the curve is not that of this ground. The residuals stand in the order of
// time.
func doubts(rest, readings []float64) []Sign {
	var all []Sign
	if len(rest) < fewReadings {
		all = append(all, FewReadings)
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, s := range readings {
		least, most = min(least, s), max(most, s)
	}
	n := float64(len(rest))
	rms := math.Sqrt(sumSquares(rest) / n)
	if len(rest) >= fewReadings && rms > max(tapeM, unevenShare*(most-least)) && lagOne(rest) > max(unevenLeast, 2/math.Sqrt(n)) {
		all = append(all, Uneven)
	}
	return all
}

// lagOne is the correlation of each residual with the next.
func lagOne(rest []float64) float64 {
	var lagged float64
	for i := 1; i < len(rest); i++ {
		lagged += rest[i] * rest[i-1]
	}
	total := sumSquares(rest)
	if total == 0 {
		return 0
	}
	return lagged / total
}
