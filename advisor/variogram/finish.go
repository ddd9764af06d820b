package variogram

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// On many points a likelihood is dear, and the top is near already. finishTol is what no
// data could tell; finishMost bounds the corrections before the plain simplex takes over.
const (
	finishTol  = 1e-3
	finishEdge = 0.3
	finishMost = 8
	trust      = 4 // steps a correction may move each coordinate
)

// finish moves a place from the top of the middle likelihood to that of the full one.
// When both hold the same data, middle has very nearly the shape of full,
//
//	full(x) ≈ middle(x) + g'(x - x₀),
//
// with the slope g of the difference, first by a step along each coordinate, then by
// what each answer of full adds (Broyden 1965, Math. Comp. 19, eq. 4.5). The right side
// is cheap to climb, and four to eight answers of the left side are enough for the
// Matérn models. Where middle saw a part of the data, the plain simplex is surer.
func (s *search) finish(start place) place {
	best := s.evaluate(s.full, start, s.noisy)
	if s.full.n != s.middle.n {
		return s.refine(s.full, best, finishEdge, finishTol)
	}
	c := s.correction(best)
	for range finishMost {
		next := s.evaluate(s.full, s.climbCorrected(best, c), s.noisy)
		gain := next.logLik - best.logLik
		if !(gain > -slack) { // the shapes differ too much, or a matrix cannot be solved
			return s.refine(s.full, best, finishEdge, finishTol)
		}
		c.learn(s, best, next)
		best = next
		if gain < finishTol {
			return best
		}
	}
	return s.refine(s.full, best, finishEdge, finishTol)
}

// correction is how the full likelihood differs from the middle one near a place.
type correction struct {
	slope []float64 // per step of each free coordinate
}

// excess is the difference itself.
func (c *correction) excess(s *search, full place) float64 {
	return full.logLik - s.evaluate(s.middle, full, s.noisy).logLik
}

// correction measures the slope by one step along each coordinate, towards the inside.
func (s *search) correction(at place) *correction {
	c := &correction{make([]float64, len(s.free))}
	here, x := c.excess(s, at), s.encode(at)
	for i := range x {
		step := finishEdge
		if x[i]+step > s.free[i].hi/s.free[i].step {
			step = -step
		}
		y := slices.Clone(x)
		y[i] += step
		p := s.evaluate(s.full, s.clamp(s.decode(at, y)), s.noisy)
		if d := (c.excess(s, p) - here) / step; finite(d) {
			c.slope[i] = d
		}
	}
	return c
}

// learn makes the slope agree with the last step taken.
func (c *correction) learn(s *search, from, to place) {
	step := s.encode(to)
	floats.Sub(step, s.encode(from))
	length2 := floats.Dot(step, step)
	if miss := c.excess(s, to) - c.excess(s, from) - floats.Dot(c.slope, step); length2 > 0 && finite(miss) {
		floats.AddScaled(c.slope, miss/length2, step)
	}
}

// climbCorrected is the top of the corrected middle likelihood, no farther than a trust
// distance from a place.
func (s *search) climbCorrected(at place, c *correction) place {
	x0 := s.encode(at)
	cost := func(x []float64) float64 {
		inside := s.clamp(s.decode(at, x))
		y := s.encode(inside)
		loss := 0.0
		for i := range y {
			loss += math.Pow(x[i]-y[i], 2) + math.Pow(max(0, math.Abs(y[i]-x0[i])-trust), 2)
		}
		floats.Sub(y, x0)
		v := s.evaluate(s.middle, inside, s.noisy).logLik + floats.Dot(c.slope, y)
		return min(-v, math.MaxFloat64/2) + loss
	}
	x, steps := minimise(cost, x0, finishEdge, finishTol/10, 80*len(x0))
	s.report.Iterations += steps
	return s.clamp(s.decode(at, x))
}
