package livehole

// states holds how likely a hole is in each state of a ground. Only blocks that hold
// anything are looked at; a block is a place with what was crossed, and holds its bins.
type states struct {
	p    []float64
	live []int // blocks that hold anything, in the order in which they were met
	has  []bool
}

func (g *ground) newStates() *states {
	return &states{p: make([]float64, g.begins[len(g.begins)-1]), has: make([]bool, len(g.begins)-1)}
}

// block returns the bins of a place, to be added to.
func (s *states) block(g *ground, at, crossed int) []float64 {
	n := at*(g.crossed+1) + crossed
	if !s.has[n] {
		s.has[n] = true
		s.live = append(s.live, n)
	}
	return s.bins(g, n)
}

// bins returns the bins of a block.
func (s *states) bins(g *ground, block int) []float64 {
	return s.p[g.begins[block]:g.begins[block+1]]
}

// empty takes everything out.
func (s *states) empty(g *ground) {
	for _, n := range s.live {
		clear(s.bins(g, n))
		s.has[n] = false
	}
	s.live = s.live[:0]
}

// add takes over a share of other states.
func (s *states) add(g *ground, from *states, share float64) {
	for _, n := range from.live {
		into := s.block(g, n/(g.crossed+1), n%(g.crossed+1))
		for bin, p := range from.bins(g, n) {
			into[bin] += p * share
		}
	}
}

// mass is how likely all of them are together.
func (s *states) mass(g *ground) (sum float64) {
	for _, n := range s.live {
		for _, p := range s.bins(g, n) {
			sum += p
		}
	}
	return sum
}
