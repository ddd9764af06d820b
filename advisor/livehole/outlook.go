package livehole

// outlook is what may lie below the bottom with the water at one level: the odds of each
// cell, and the pooled chain. Cells already drilled are left zero.
type outlook struct {
	weight float64 // chance of the level
	bottom row     // odds of the last cell drilled
	odds   []row   // of each cell below
	steps  []matrix
}

// looks reads a log and returns what may lie below the hole at every level.
func (p *Pack) looks(l *Log, h *hole) []outlook {
	columns := p.columns()
	b := p.read(l, h, columns)
	out := make([]outlook, len(b.level))
	for i := range out {
		out[i] = p.below(&b, i, l, h, columns)
	}
	return out
}

// below pools the columns of one level into the chain that has their odds and their pairs
// of neighbouring cells.
func (p *Pack) below(b *belief, level int, l *Log, h *hole, columns []column) outlook {
	out := outlook{weight: b.level[level], odds: make([]row, p.Cells), steps: make([]matrix, p.Cells)}
	if out.weight == 0 {
		return out
	}
	for c := range columns {
		w, at := b.column[level][c]/out.weight, b.bottom[level][c]
		for k := range at {
			out.bottom[k] += w * at[k]
		}
		for z := h.cells; z < p.Cells; z++ {
			next := columns[c].onward(z, &at)
			if z == h.cells && l.Refused {
				p.stopped(l, &next)
				columns[c].addPairs(z, w, &at, &next, &out.steps[z])
			} else {
				columns[c].addPairs(z, w, &at, nil, &out.steps[z])
			}
			for k := range next {
				out.odds[z][k] += w * next[k]
			}
			at = next
		}
	}
	for z := h.cells; z < p.Cells; z++ {
		for j := range out.steps[z] {
			if z == 0 {
				out.steps[z][j] = out.odds[0]
			}
			p.likely(&out.steps[z][j])
		}
	}
	return out
}

// likely leaves steps out that are hardly ever taken: each would be followed as far as the
// others.
func (p *Pack) likely(odds *row) {
	scaled(odds)
	for k, q := range odds {
		if q < p.Weights.Rare {
			odds[k] = 0
		}
	}
	scaled(odds)
}

// addPairs adds how likely each pair of classes is in a cell and the one above it; towards
// the odds of the cell where those are known better than by the chain.
func (c *column) addPairs(z int, w float64, above, below *row, pairs *matrix) {
	if z == 0 {
		return
	}
	by := c.onward(z, above)
	for j, p := range above {
		if c.steps[z] == nil {
			pairs[j][j] += w * p * towards(below, &by, j)
			continue
		}
		for k, q := range &c.steps[z][j] {
			pairs[j][k] += w * p * q * towards(below, &by, k)
		}
	}
}

// towards is what turns the odds of a class by the chain into those known.
func towards(known, by *row, class int) float64 {
	if known == nil || by[class] == 0 {
		return 1
	}
	return known[class] / by[class]
}
