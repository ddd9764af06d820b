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
	var c, c2 [sketchFields]works
	for g, w := range s.weights {
		of := s.byField(g)
		for f := range of {
			for b, p := range of[f] {
				c[f][b] += w * p
				c2[f][b] += w * p * p
			}
		}
	}
	sum, square, within := 0.0, 0.0, 0.0
	for f := range c {
		for b, p := range c[f] {
			sum += p
			square += p * p
			within += max(c2[f][b]-p*p, 0)
		}
	}
	const n = sketchFields * bands
	lo, hi := betaRange(chance, within/n/(s.total+1)+max(square/n-sum/n*sum/n, 0))
	return Spread{chance, min(lo, chance), max(hi, chance)}
}

// byField is the chance in a ground, given each slice of the surface.
func (s *sketcher) byField(g int) (of [sketchFields]works) {
	for i, p := range s.in(g) {
		if p == (works{}) {
			continue
		}
		for f, odds := range s.lows[i].fields {
			if odds == 0 {
				continue
			}
			for b := range p {
				of[f][b] += odds * p[b]
			}
		}
	}
	return of
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
