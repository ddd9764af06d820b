package variogram

import (
	"cmp"
	"slices"
)

// vertex is a corner of the simplex.
type vertex struct {
	x    []float64
	cost float64
}

// simplex minimises f from x0 with a first simplex of a given edge, by the method of
// Nelder and Mead (1965) with their coefficients 1, 2, 1/2, 1/2. It stops when no
// corner differs from the best by more than tol in cost, or after most calls of f.
type simplex struct {
	f      func([]float64) float64
	calls  int
	steps  int
	corner []vertex // sorted by cost
}

func minimise(f func([]float64) float64, x0 []float64, edge, tol float64, most int) (x []float64, steps int) {
	s := &simplex{f: f}
	s.corner = append(s.corner, s.at(x0))
	for i := range x0 {
		x := slices.Clone(x0)
		x[i] += edge
		s.corner = append(s.corner, s.at(x))
	}
	s.sort()
	for s.calls < most && s.worst().cost-s.corner[0].cost > tol {
		s.steps++
		s.step()
		s.sort()
	}
	return s.corner[0].x, s.steps
}

func (s *simplex) at(x []float64) vertex {
	s.calls++
	return vertex{x, s.f(x)}
}

func (s *simplex) sort() {
	slices.SortStableFunc(s.corner, func(a, b vertex) int { return cmp.Compare(a.cost, b.cost) })
}

func (s *simplex) worst() *vertex { return &s.corner[len(s.corner)-1] }

// along is the point centre + t (centre - worst), with the centre of all but the
// worst corner.
func (s *simplex) along(t float64) vertex {
	rest := s.corner[:len(s.corner)-1]
	x := make([]float64, len(rest))
	for i := range x {
		for _, v := range rest {
			x[i] += v.x[i]
		}
		centre := x[i] / float64(len(rest))
		x[i] = centre + t*(centre-s.worst().x[i])
	}
	return s.at(x)
}

func (s *simplex) step() {
	second := s.corner[len(s.corner)-2].cost
	r := s.along(1)
	switch {
	case r.cost < s.corner[0].cost:
		if e := s.along(2); e.cost < r.cost {
			r = e
		}
		*s.worst() = r
	case r.cost < second:
		*s.worst() = r
	default:
		s.contract(r)
	}
}

// contract pulls the worst corner in, or the whole simplex when that does not help.
func (s *simplex) contract(r vertex) {
	t := -0.5
	if r.cost < s.worst().cost {
		t = 0.5
	}
	if c := s.along(t); c.cost < min(r.cost, s.worst().cost) {
		*s.worst() = c
		return
	}
	best := s.corner[0].x
	for k := 1; k < len(s.corner); k++ {
		x := make([]float64, len(best))
		for i := range x {
			x[i] = (best[i] + s.corner[k].x[i]) / 2
		}
		s.corner[k] = s.at(x)
	}
}
