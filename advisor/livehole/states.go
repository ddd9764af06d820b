package livehole

// states holds how likely a hole is in each state of a ground. Only blocks that hold
// anything are looked at; a block is a place with what was crossed, and holds its bins. Of
// those of two cells and more a few that follow each other do.
type states struct {
	p     []float64
	live  []int // blocks that hold anything, in the order in which they were met
	has   []bool
	holds []span // of each block that has any
}

// span is a range of bins, the last not included.
type span struct{ from, to int }

func (g *ground) newStates() *states {
	blocks := len(g.begins) - 1
	return &states{p: make([]float64, g.begins[blocks]), has: make([]bool, blocks), holds: make([]span, blocks)}
}

// block is the number of a place with what was crossed.
func (g *ground) block(at, crossed int) int { return at*(g.crossed+1) + crossed }

// open returns the bins of a block, to be added to: those of a body of two cells and more by
// put and widen.
func (s *states) open(g *ground, block int) []float64 {
	if !s.has[block] {
		s.has[block], s.holds[block] = true, span{}
		s.live = append(s.live, block)
	}
	return s.bins(g, block)
}

// put adds to the two bins of a body between which it lies.
func (s *states) put(g *ground, block int, m move, p float64) {
	bins := s.open(g, block)
	bins[m.bin] += p * (1 - m.part)
	bins[m.bin+1] += p * m.part
	s.widen(block, m.bin, m.bin+2)
}

// widen says that bins of a block hold something.
func (s *states) widen(block, from, to int) {
	h := &s.holds[block]
	if h.to == 0 {
		h.from, h.to = from, to
		return
	}
	h.from, h.to = min(h.from, from), max(h.to, to)
}

// bins returns the bins of a block.
func (s *states) bins(g *ground, block int) []float64 {
	return s.p[g.begins[block]:g.begins[block+1]]
}

// empty takes everything out.
func (s *states) empty(g *ground) {
	for _, n := range s.live {
		bins := s.bins(g, n)
		for i := range bins[:min(atLeastTwo, len(bins))] {
			bins[i] = 0
		}
		for i := s.holds[n].from; i < s.holds[n].to; i++ {
			bins[i] = 0
		}
		s.has[n] = false
	}
	s.live = s.live[:0]
}

// add takes over a share of other states.
func (s *states) add(g *ground, from *states, share float64) {
	for _, n := range from.live {
		into, bins, holds := s.open(g, n), from.bins(g, n), from.holds[n]
		for bin, p := range bins[:min(atLeastTwo, len(bins))] {
			into[bin] += p * share
		}
		if holds.to == 0 {
			continue
		}
		for bin := holds.from; bin < holds.to; bin++ {
			into[bin] += bins[bin] * share
		}
		s.widen(n, holds.from, holds.to)
	}
}

// mass is how likely all of them are together.
func (s *states) mass(g *ground) (sum float64) {
	for _, n := range s.live {
		sum += s.massOf(g, n)
	}
	return sum
}

// massOf is how likely one block is.
func (s *states) massOf(g *ground, block int) (sum float64) {
	bins, holds := s.bins(g, block), s.holds[block]
	for _, p := range bins[:min(atLeastTwo, len(bins))] {
		sum += p
	}
	for _, p := range bins[holds.from:holds.to] {
		sum += p
	}
	return sum
}
