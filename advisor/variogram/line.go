package variogram

import "math"

// minimiseOnLine finds a minimum of f on [lo, hi]: the best of n+1 evenly spaced
// places, refined by golden section between its neighbours. An end that is no
// worse than the refined place is returned exactly.
func minimiseOnLine(f func(float64) float64, lo, hi float64, n int) float64 {
	step := (hi - lo) / float64(n)
	best, bestCost := lo, f(lo)
	for i := 1; i <= n; i++ {
		x := lo + float64(i)*step
		if i == n {
			x = hi
		}
		if c := f(x); c < bestCost {
			best, bestCost = x, c
		}
	}
	x := golden(f, max(lo, best-step), min(hi, best+step))
	if f(x) < bestCost {
		return x
	}
	return best
}

// golden narrows [a, b] around a minimum to the square root of rounding, below
// which f no longer tells places apart.
func golden(f func(float64) float64, a, b float64) float64 {
	const ratio = 0.6180339887498949
	x1, x2 := b-ratio*(b-a), a+ratio*(b-a)
	f1, f2 := f(x1), f(x2)
	for b-a > 1e-9*(1+math.Abs(a)) {
		if f1 <= f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - ratio*(b-a)
			f1 = f(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + ratio*(b-a)
			f2 = f(x2)
		}
	}
	return (a + b) / 2
}
