package hydraulics

import "math"

// stehfestTerms is how many terms the inversion takes: more lose more to rounding than
// they gain.
const stehfestTerms = 14

// stehfestWeights are the weights of the terms.
var stehfestWeights = weights()

func weights() [stehfestTerms]float64 {
	const half = stehfestTerms / 2
	var all [stehfestTerms]float64
	for i := 1; i <= stehfestTerms; i++ {
		for k := (i + 1) / 2; k <= min(i, half); k++ {
			all[i-1] += math.Pow(float64(k), half) * math.Gamma(float64(2*k+1)) /
				(math.Gamma(float64(half-k+1)) * math.Gamma(float64(k+1)) * math.Gamma(float64(k)) *
					math.Gamma(float64(i-k+1)) * math.Gamma(float64(2*k-i+1)))
		}
		if (half+i)%2 == 1 {
			all[i-1] = -all[i-1]
		}
	}
	return all
}

// invert returns at time t the function whose Laplace transform is f.
//
// It is good to five or six digits for functions without oscillation or jump.
//
// Source: Stehfest (1970), Communications of the ACM 13, algorithm 368.
func invert(f func(p float64) float64, t float64) float64 {
	sum := 0.0
	for i, w := range stehfestWeights {
		sum += w * f(float64(i+1)*math.Ln2/t)
	}
	return sum * math.Ln2 / t
}
