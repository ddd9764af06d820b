package programme

import (
	"math"
	"slices"
)

// coreTimes is how many columns for each village of the best choice the narrow searches
// look at. They find good programmes soon and prove nothing.
var coreTimes = [...]int{2, 4, 8, 3, 6}

// coreWork is the most that one narrow search looks at; it need not come to an end.
const coreWork = 10_000_000

// near looks for better programmes among the columns nearest to the best choice.
func (s *search) near(low *lowered) {
	in := 0
	for _, j := range s.price(low, s.whole()).pick {
		if j >= 0 {
			in++
		}
	}
	for _, times := range coreTimes {
		if s.done(low.bound) {
			return
		}
		s.core(low, times*max(in, 30))
	}
}

// core searches the columns with least regret, depth first; villages that would be missed
// more than these columns must be in.
func (s *search) core(low *lowered, size int) {
	got := s.price(low, s.whole())
	if len(s.m.cols) == 0 {
		return
	}
	sorted := slices.Sorted(slices.Values(got.regret))
	width := sorted[max(min(size, len(sorted)), 1)-1]
	wide := *s.m
	wide.goal.out = slices.Clone(s.m.goal.out)
	for v, fall := range got.without {
		if fall > width {
			wide.goal.out[v] = math.Inf(-1)
		}
	}
	narrow := slices.Clone(s.dead)
	for j := range narrow {
		narrow[j] = narrow[j] || got.regret[j] > width
	}
	small, origin := wide.keep(narrow)
	t := newSearch(small, s.lim)
	t.score, t.lim.work = s.score, min(s.lim.work/6, coreWork)
	t.branch(*low, deepFirst)
	s.spent += t.work()
	if t.best != nil {
		s.offer(from(s.m, forth(t.best.pick, origin)))
	}
}
