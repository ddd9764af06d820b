package hydraulics

import "math"

// golden returns where f is least between two numbers, f having one valley there.
//
// Source: golden section search, Kiefer (1953).
func golden(f func(float64) float64, lo, hi float64) float64 {
	const share = 0.6180339887498949
	a, b := hi-share*(hi-lo), lo+share*(hi-lo)
	fa, fb := f(a), f(b)
	for i := 0; i < 200 && hi-lo > 1e-9*(1+math.Abs(lo)); i++ {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - share*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + share*(hi-lo)
			fb = f(b)
		}
	}
	return (lo + hi) / 2
}

// bisect returns where f, which rises or falls from one sign to the other, crosses 0
// between two numbers above 0, to a relative 1e-9; ok is false without a crossing.
func bisect(f func(float64) float64, lo, hi float64) (x float64, ok bool) {
	below := f(lo) < 0
	if below == (f(hi) < 0) {
		return 0, false
	}
	for i := 0; i < 200 && hi/lo > 1+1e-9; i++ { // 200: from the least float to the greatest
		mid := math.Sqrt(lo) * math.Sqrt(hi)
		if (f(mid) < 0) == below {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Sqrt(lo) * math.Sqrt(hi), true
}
