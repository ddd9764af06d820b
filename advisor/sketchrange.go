package advisor

import "gonum.org/v1/gonum/mathext"

// ranged returns a chance with its range: that of the Beta distribution with the mean and
// the variance which the members of an ensemble have. Given surface and band the shares of
// the grounds follow a Dirichlet, so that with weights w that added up to A
//
//	Var = E[Σ w (c_g - c)² / (A + 1)] + Var[c].
//
// Source: the law of total variance; moments of the Dirichlet, any textbook.
func (s *sketcher) ranged(chance float64) Spread {
	sum, square, within := 0.0, 0.0, 0.0
	for f := range sketchFields {
		var c, c2 works
		for g, w := range s.weights {
			var of works
			for i, p := range s.in(g) {
				odds := s.levels[i].fields[f]
				for b := range of {
					of[b] += odds * p[b]
				}
			}
			for b, p := range of {
				c[b] += w * p
				c2[b] += w * p * p
			}
		}
		for b := range c {
			sum += c[b]
			square += c[b] * c[b]
			within += max(c2[b]-c[b]*c[b], 0)
		}
	}
	const n = sketchFields * bands
	lo, hi := betaRange(chance, within/n/(s.total+1)+max(square/n-sum/n*sum/n, 0))
	return Spread{chance, min(lo, chance), max(hi, chance)}
}

// betaRange returns the middle 80 % of the Beta distribution of a mean and a variance.
func betaRange(mean, variance float64) (lo, hi float64) {
	most := mean * (1 - mean)
	if variance < 1e-6*most || most < 1e-6 {
		return mean, mean
	}
	counts := max(most/variance-1, 1e-2)
	a, b := mean*counts, (1-mean)*counts
	return mathext.InvRegIncBeta(a, b, 0.1), mathext.InvRegIncBeta(a, b, 0.9)
}
