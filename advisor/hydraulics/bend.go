package hydraulics

import "math"

// bend tells whether the last third of the time, on its logarithm, runs at another slope
// than the first: by more than half, and by more than three times the error of both. It
// returns the place where the first third ends.
//
// The half, and doubling as the sign of one straight barrier, are common practice: an
// image well doubles the slope, a river brings it to nothing.
func bend(x, y []float64, readings []Reading) (Sign, int) {
	start, whole := readings[0].Days, readings[len(readings)-1].Days/readings[0].Days
	one, two := 0, 0
	for i, r := range readings {
		if r.Days <= start*math.Cbrt(whole) {
			one = i + 1
		}
		if r.Days <= start*math.Cbrt(whole)*math.Cbrt(whole) {
			two = i + 1
		}
	}
	first, err1 := fitLine(x[:one], y[:one])
	last, err2 := fitLine(x[two:], y[two:])
	if err1 != nil || err2 != nil {
		return "", 0
	}
	noise := 3 * line{varA: first.varB, varB: last.varB}.spread(1, 1)
	switch {
	case last.b-first.b > max(noise, first.b/2):
		return Barrier, one
	case first.b-last.b > max(noise, first.b/2):
		return Recharge, one
	}
	return "", 0
}
