package draw

import (
	"math"
	"strconv"
	"strings"
)

// Ticks returns round values that divide an axis into about n parts: multiples of
// 1, 2 or 5 times a power of ten, rising, from lo to hi, ends included where round.
//
//   - Domain: finite lo < hi and n >= 1; nil otherwise.
//   - Units: those of lo and hi.
//   - Source: common practice.
func Ticks(lo, hi float64, n int) []float64 {
	if !finite(lo, hi, hi-lo) || !(lo < hi) || n < 1 {
		return nil
	}
	step := roundStep((hi - lo) / float64(n))
	if step == 0 || lo+step == lo || hi+step == hi {
		return nil // finer than the numbers themselves
	}
	return multiples(step, math.Ceil(lo/step-tickSlack), math.Floor(hi/step+tickSlack))
}

// Cover returns round values as [Ticks] does, but such that the first is at or below lo
// and the last at or above hi: an axis from the first to the last shows every value
// between, and ends on ticks. It divides the axis into about n parts.
//
//   - Domain: finite lo < hi and n >= 1; nil otherwise, and where the parts would be
//     finer than the numbers themselves.
//   - Units: those of lo and hi.
//   - Source: common practice.
func Cover(lo, hi float64, n int) []float64 {
	if !finite(lo, hi, hi-lo) || !(lo < hi) || n < 1 {
		return nil
	}
	step := roundStep((hi - lo) / float64(n))
	if step == 0 || lo+step == lo || hi+step == hi {
		return nil
	}
	first, last := math.Floor(lo/step+tickSlack), math.Ceil(hi/step-tickSlack)
	if !finite(first*step, last*step) {
		return nil // the next round value is beyond all numbers
	}
	return multiples(step, first, last)
}

// tickSlack, in steps, keeps an end that rounding moved across a tick.
const tickSlack = 1e-9

// multiples returns step times each whole number from first to last.
func multiples(step, first, last float64) []float64 {
	var out []float64
	for i := first; i <= last; i++ {
		out = append(out, tidy(i*step+0)) // +0 turns -0 into 0
	}
	return out
}

// roundStep returns the 1, 2 or 5 times a power of ten that is nearest to x in ratio.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	switch f := x / power; {
	case f < math.Sqrt(2):
		return power
	case f < math.Sqrt(10):
		return 2 * power
	case f < math.Sqrt(50):
		return 5 * power
	default:
		return 10 * power
	}
}

// tidy drops the rounding dust of a product such as 3*0.1.
func tidy(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return v
	}
	return out
}

func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// plainCount writes a number of things in digits.
func plainCount(n int) string { return strconv.Itoa(n) }

// plainNumber writes a tick with a decimal point, for callers that give no writer.
func plainNumber(v float64) string {
	return strings.Replace(strconv.FormatFloat(v, 'f', -1, 64), "-", "\u2212", 1)
}
