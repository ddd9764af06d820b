package programme

import (
	"math"
	"slices"
)

// limits end a search.
type limits struct {
	gap    float64 // distance to the bound, as a share of it
	enough float64 // score that cannot be bettered
	below  float64 // a bound below this is all that is asked
	work   int     // columns looked at
}

// found is what a search came to.
type found struct {
	picks  []int32 // column of each village; nil where nothing that fits was found
	score  float64
	bound  float64 // no programme scores more; minus infinity: there is none
	prices prices  // at which the bound of the whole was lowest
	work   int
}

// search looks for the best programme of a model.
type search struct {
	m     *model
	r     *relaxer
	lim   limits
	dead  []bool
	best  *draft
	score float64
	spent int // by exchanges, besides the relaxer's own
}

const (
	rootSteps = 400 // of the first descent, and of the second on what is left of the columns
	nodeSteps = 25  // of the descent in each branch
)

// maximise searches from some programmes that fit, if there are any.
func maximise(m *model, starts [][]int32, lim limits) found {
	s := newSearch(m, lim)
	for _, picks := range starts {
		s.offer(from(m, picks))
	}
	root := s.settle(m.noPrices())
	if s.done(root.bound) {
		return s.answer(root, root.bound)
	}
	s.near(&root)
	s.drop(&root, s.whole())
	small, origin := m.keep(s.dead)
	t := newSearch(small, lim)
	t.spent, t.score = s.work(), s.score // what it finds must be better
	again := t.settle(root.prices)
	bound := max(min(again.bound, root.bound), t.score)
	if !t.done(bound) {
		bound = t.branch(again, bestFirst)
	}
	out := t.answer(root, bound)
	if out.picks = forth(out.picks, origin); t.best == nil && s.best != nil {
		out.picks = slices.Clone(s.best.pick)
	}
	return out
}

// forth gives picks of a smaller model their numbers in the larger one.
func forth(picks, origin []int32) []int32 {
	out := slices.Clone(picks)
	for v, j := range out {
		if j >= 0 {
			out[v] = origin[j]
		}
	}
	return out
}

func newSearch(m *model, lim limits) *search {
	return &search{m: m, r: newRelaxer(m), lim: lim, dead: make([]bool, len(m.cols)), score: math.Inf(-1)}
}

func (s *search) work() int { return s.spent + s.r.work }

// margin is what a programme must gain to count as better.
func (s *search) margin() float64 {
	if math.IsInf(s.score, -1) {
		return 0
	}
	return 1e-7 * max(1e-3, math.Abs(s.score))
}

// done reports whether a bound leaves nothing to look for.
func (s *search) done(bound float64) bool {
	if math.IsInf(bound, -1) || bound < s.lim.below || s.score >= s.lim.enough || s.work() > s.lim.work {
		return true
	}
	return bound <= s.score+max(s.margin(), s.lim.gap*math.Abs(bound))
}

func (s *search) answer(root lowered, bound float64) found {
	out := found{score: s.score, bound: max(bound, s.score), prices: root.prices, work: s.work()}
	if s.best != nil {
		out.picks = slices.Clone(s.best.pick)
	}
	return out
}

// offer keeps a draft that fits and scores more than the best so far.
func (s *search) offer(d *draft) bool {
	if !d.fits() {
		return false
	}
	if x := d.score(); x > s.score {
		s.best, s.score = d, x
		return true
	}
	return false
}

func (s *search) whole() *domain {
	d := &domain{dead: s.dead, fixed: make([]int32, len(s.m.of))}
	for v := range d.fixed {
		d.fixed[v] = free
	}
	return d
}

// settle lowers the bound of the whole, makes programmes of what the prices choose, and
// drops the columns that cannot be part of a better one.
func (s *search) settle(start prices) lowered {
	d := s.whole()
	effort := min(s.lim.work/50, 400*len(s.m.cols))
	low := s.r.descend(start, d, s.score, rootSteps)
	s.r.polish(&low, d)
	s.heuristics(&low, s.price(&low, d), d, effort)
	for round := 0; round < 2 && !s.done(low.bound); round++ {
		next := s.r.descend(low.prices, d, s.score, rootSteps/4)
		if next.bound < low.bound {
			low = next
		}
		low.share = next.share
		s.heuristics(&low, s.price(&low, d), d, effort)
		s.drop(&low, d)
	}
	return low
}

// price works out choice, reduced values and regrets at the lowest prices found.
func (s *search) price(low *lowered, d *domain) *relaxed {
	s.r.weigh(low.prices.worst)
	got := s.r.at(&low.prices, d)
	s.r.regrets(&low.prices, d)
	return got
}

// heuristics makes programmes of what the prices choose and of where they lean, and spends
// up to effort columns to improve each.
func (s *search) heuristics(low *lowered, got *relaxed, d *domain, effort int) {
	order := ordered(got, s.dead, s.score)
	for _, picks := range [][]int32{got.pick, s.leaning(low.share, d)} {
		x, ok := repair(s.m, picks, order)
		s.spent += len(s.m.of) + 4*len(order)
		if !ok {
			continue
		}
		if x.score() > s.score-0.02*math.Abs(s.score) {
			s.spent += x.improve(s.dead, effort)
			s.spent += x.exchangePairs(nearest(got, order))
		}
		s.offer(x)
	}
}

// leaning picks of each village the column that the descent took most often.
func (s *search) leaning(share []float64, d *domain) []int32 {
	picks := make([]int32, len(s.m.of))
	for v := range picks {
		picks[v] = left
		out := 1.0
		for j := s.m.of[v][0]; j < s.m.of[v][1]; j++ {
			out -= share[j]
		}
		most := out
		for j := s.m.of[v][0]; j < s.m.of[v][1]; j++ {
			if share[j] > most {
				picks[v], most = j, share[j]
			}
		}
		if d.fixed[v] != free {
			picks[v] = d.fixed[v]
		}
	}
	return picks
}

// drop strikes the columns that no better programme holds: taking one lowers the bound to
// the best score or below.
func (s *search) drop(low *lowered, d *domain) {
	if math.IsInf(s.score, -1) {
		return
	}
	got := s.price(low, d)
	for j := range s.dead {
		if got.bound-got.regret[j] <= s.score+s.margin() {
			s.dead[j] = true
		}
	}
}

// keep returns the model without dead columns, and the old number of each kept one.
func (m *model) keep(dead []bool) (*model, []int32) {
	small := *m
	small.cols, small.use, small.of = nil, nil, nil
	var origin []int32
	for v := range m.of {
		from := int32(len(origin))
		for j := m.of[v][0]; j < m.of[v][1]; j++ {
			if !dead[j] {
				origin = append(origin, j)
			}
		}
		small.of = append(small.of, [2]int32{from, int32(len(origin))})
	}
	for _, j := range origin {
		small.cols, small.use = append(small.cols, m.cols[j]), append(small.use, m.use[j])
	}
	small.rest()
	small.floors = slices.Clone(m.floors)
	for f := range small.floors {
		if m.floors[f].people {
			small.floors[f].gives = nil
			for _, j := range origin {
				small.floors[f].gives = append(small.floors[f].gives, m.floors[f].gives[j])
			}
		}
	}
	return &small, origin
}
