package variogram

import "math"

// Steps of the first simplex, and the unit in which the optimiser sees each
// coordinate: a third of a scan step or so.
const (
	stepLogA  = 0.15
	stepShare = 0.05
	stepTotal = 0.2
)

func (s *search) encode(p place) []float64 {
	x := []float64{p.logA / stepLogA, p.share / stepShare}
	if s.noisy {
		x = append(x, p.logTotal/stepTotal)
	}
	return x
}

func (s *search) decode(x []float64) place {
	p := place{logA: x[0] * stepLogA, share: x[1] * stepShare}
	if s.noisy {
		p.logTotal = x[2] * stepTotal
	}
	return p
}

// cost is minus the log-likelihood at the nearest place inside the bounds, plus
// the squared way there.
func (s *search) cost(x []float64) float64 {
	inside := s.clamp(s.decode(x))
	y := s.encode(inside)
	outside := 0.0
	for i := range x {
		outside += (x[i] - y[i]) * (x[i] - y[i])
	}
	c := -s.evaluate(s.full, inside, s.noisy).logLik
	return min(c, math.MaxFloat64/2) + outside
}

// refine climbs from a start by the simplex method until its corners agree to tol
// of a log-likelihood.
func (s *search) refine(start place, tol float64) place {
	const most = 160 // evaluations
	x, steps := minimise(s.cost, s.encode(start), tol, most)
	s.iters += steps
	return s.evaluate(s.full, s.clamp(s.decode(x)), s.noisy)
}
