package coord

import "math"

// gauss is one half of a symmetric Gauss-Legendre rule on [-1, 1].
type gauss struct{ node, weight float64 }

// Source of nodes and weights: Abramowitz and Stegun (1964), table 25.4.
var (
	gauss2  = []gauss{{0.5773502691896257, 1}}
	gauss4  = []gauss{{0.3399810435848563, 0.6521451548625461}, {0.8611363115940526, 0.3478548451374538}}
	gauss10 = []gauss{
		{0.1488743389816312, 0.2955242247147529},
		{0.4333953941292472, 0.2692667193099963},
		{0.6794095682990244, 0.2190863625159820},
		{0.8650633666889845, 0.1494513491505806},
		{0.9739065285171717, 0.0666713443086881},
	}
)

// ruleFor returns the smallest rule whose error on an arc of that many radians
// stays below 1e-14 of the integral (its integrand varies by k² < 0.007).
func ruleFor(sigma12 float64) []gauss {
	switch {
	case sigma12 < 0.02:
		return gauss2
	case sigma12 < 0.2:
		return gauss4
	}
	return gauss10
}

// lengthIntegral returns ∫ √(1+k² sin²σ) dσ over sigma12 radians from sigma1:
// distance in units of the polar semi-axis. Source: Karney (2013), eq. 7.
func lengthIntegral(k2, sigma1, sigma12 float64) float64 {
	half, sum := sigma12/2, 0.0
	mid := sigma1 + half
	for _, g := range ruleFor(sigma12) {
		sum += g.weight * (stretch(k2, mid-half*g.node) + stretch(k2, mid+half*g.node))
	}
	return half * sum
}

// lonIntegral returns ∫ (2-f)/(1+(1-f)√(1+k² sin²σ)) dσ, by which longitude on
// the ellipsoid lags behind the auxiliary sphere. Source: Karney (2013), eq. 8.
func (e ellipsoid) lonIntegral(k2, sigma1, sigma12 float64) float64 {
	half, sum := sigma12/2, 0.0
	mid := sigma1 + half
	for _, g := range ruleFor(sigma12) {
		sum += g.weight * (e.lag(k2, mid-half*g.node) + e.lag(k2, mid+half*g.node))
	}
	return half * sum
}

func stretch(k2, sigma float64) float64 {
	s := math.Sin(sigma)
	return math.Sqrt(1 + k2*s*s)
}

func (e ellipsoid) lag(k2, sigma float64) float64 {
	return (2 - e.f) / (1 + (1-e.f)*stretch(k2, sigma))
}
