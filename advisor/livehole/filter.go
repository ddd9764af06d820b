package livehole

import "math"

// belief is what is thought of the ground and the water once the log is read.
type belief struct {
	level  []float64   // chance of each level
	column [][]float64 // chance of each level and column together
	bottom [][]row     // odds of the last cell drilled, by level and column; of nothing at the surface
}

// read weighs every level and column by how likely it made the log,
//
//	w(i,c) ∝ share(c) P(level read | i) Σ over ways down of ∏ T(j,k) l(k | i),
//
// by the forward pass. Where nothing can have made the log it tells nothing.
//
// Source: Rabiner (1989), eqs. 19-20, scaled.
func (p *Pack) read(l *Log, h *hole, columns []column) belief {
	b := belief{level: make([]float64, len(p.Level.Low))}
	total := 0.0
	for i := range b.level {
		likely, seen := p.levelRead(l, i), p.seen(l, h, i)
		weights, bottoms := make([]float64, len(columns)), make([]row, len(columns))
		for c := range columns {
			w := columns[c].share * likely
			var at row
			for z := range seen {
				at = columns[c].onward(z, &at)
				for k := range at {
					at[k] *= seen[z][k]
				}
				w *= scaled(&at)
			}
			if l.Refused {
				next := columns[c].onward(h.cells, &at)
				w *= p.stopped(l, &next)
			}
			weights[c], bottoms[c] = w, at
			b.level[i] += w
		}
		total += b.level[i]
		b.column, b.bottom = append(b.column, weights), append(b.bottom, bottoms)
	}
	for i := range b.level {
		b.level[i] /= total
		for c := range columns {
			b.column[i][c] /= total
		}
	}
	return b
}

// levelRead is the likelihood of the level read.
func (p *Pack) levelRead(l *Log, level int) float64 {
	read, ok := l.LevelM.Get()
	if !ok {
		return 1
	}
	off := (read - p.Level.Today[l.Month-1][level]) / p.Level.SD[l.Month-1][level]
	return max(math.Exp(-0.5*off*off), p.Weights.Read)
}

// seen returns how likely each class makes what each cell has shown, with the water at one
// level.
func (p *Pack) seen(l *Log, h *hole, level int) []row {
	m := &p.Methods[p.method(l.Method)]
	today := p.Level.Today[l.Month-1][level]
	out := make([]row, h.cells)
	for z := range out {
		for k := range out[z] {
			x := 1.0
			if named := h.named[z]; named >= 0 {
				x *= math.Pow(max(p.Naming[k][named], p.Weights.Floor), p.Weights.Name*h.share[z])
			}
			if minutes := h.minutes[z]; minutes > 0 {
				off := math.Log(minutes/m.minutes(k, z)) / p.Weights.PaceSD
				x *= max(math.Exp(-0.5*p.Weights.Pace*off*off), p.Weights.Floor)
			}
			if m.Cross[k] == 0 {
				x *= p.Weights.Slipped
			}
			out[z][k] = x * p.water(h, z, k, today)
		}
	}
	return out
}

// stopped takes from the odds of the cell below the bottom what would not have refused the
// bit, and returns how likely they made it that something did.
func (p *Pack) stopped(l *Log, below *row) float64 {
	m := &p.Methods[p.method(l.Method)]
	for k := range below {
		if m.Cross[k] >= p.Cells {
			below[k] *= p.Weights.Slipped
		}
	}
	return scaled(below)
}

// minutes is how long a metre of a class takes in a cell.
func (m *Method) minutes(class, z int) float64 {
	return m.Minutes[class] * (1 + m.SlowerPerM*middleM(z))
}

// water is the likelihood of what a cell has shown of water that stands at a level.
func (p *Pack) water(h *hole, z, class int, today float64) float64 {
	wet := middleM(z) > today
	switch {
	case z == h.strike && middleM(z)+cellM < today:
		return p.Weights.Perched
	case z == h.strike:
		return p.Struck[class]
	case wet && p.gives(class) && (h.strike < 0 || z < h.strike):
		return p.Weights.Missed
	}
	return 1
}

// gives reports that a screen is set against a class.
func (p *Pack) gives(class int) bool { return p.Yield.Cell[0][0][class] > 0 }
