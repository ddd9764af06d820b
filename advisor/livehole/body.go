package livehole

import "math"

// move is where a body's bin goes with one more cell: to a bin and the next one, in such
// parts that the mean transmissivity stays exact.
type move struct {
	bin  int
	part float64 // that goes to bin+1
}

// bodies are the moves of one band of conductivity, by range of depth.
type bodies struct {
	cell [][]float64              // transmissivity of one cell by range and class
	grow [][classes][]move        // with a cell of a class, from bin atLeastTwo+i
	join [][classes][classes]move // from one cell of a class with one of another; of two ranges behind those within one
}

func (p *Pack) bodies(band int) *bodies {
	b := &bodies{cell: p.Yield.Cell[band]}
	for _, cell := range b.cell {
		var grow [classes][]move
		for k, t := range cell {
			for _, bin := range p.Yield.Bins {
				grow[k] = append(grow[k], p.bin(p.together(bin, t)))
			}
		}
		b.grow, b.join = append(b.grow, grow), append(b.join, p.joined(cell, cell))
	}
	for i := range b.cell {
		b.join = append(b.join, p.joined(b.cell[max(i-1, 0)], b.cell[i]))
	}
	return b
}

// joined are the moves from one cell to two.
func (p *Pack) joined(above, below []float64) (join [classes][classes]move) {
	for j, first := range above {
		for k, t := range below {
			join[j][k] = p.bin(p.together(first, t))
		}
	}
	return join
}

// within is the range of depth of a cell.
func (y *Yield) within(z int) int { return min(z/y.Every, len(y.Cell[0])-1) }

// together is what a body gives with one more cell of t, as far as one screen is long.
func (p *Pack) together(body, t float64) float64 {
	return min(body+t, max(p.Screen.LongestM/cellM*t, body))
}

// bin splits a transmissivity between the two bins that it lies between.
func (p *Pack) bin(t float64) move {
	bins := p.Yield.Bins
	i := 0
	for i+2 < len(bins) && bins[i+1] <= t {
		i++
	}
	return move{atLeastTwo + i, min(1, (t-bins[i])/(bins[i+1]-bins[i]))}
}

// roof is the first cell whose middle lies below the roof of a screen.
func (p *Pack) roof(designM float64) int {
	return max(0, int(math.Floor(max(designM, p.Screen.HighestM)/cellM+0.5)))
}

// ready returns for every cell the least bin that gives enough where a screen's foot
// stands at the top of it; a bin beyond the last where none does.
func (p *Pack) ready(m *Method, designM float64) []int {
	out := make([]int, p.Cells)
	for z := range out {
		enough := m.enough(float64(z)*cellM - p.Screen.CoverM - designM)
		i := 0
		for i < len(p.Yield.Bins) && p.Yield.Bins[i]*enough < 1 {
			i++
		}
		out[z] = atLeastTwo + i
	}
	return out
}

// enough is one over the transmissivity needed for an allowed drawdown.
func (m *Method) enough(allowedM float64) float64 {
	at := min(max(allowedM/cellM, 0), float64(len(m.Enough)-1))
	i := min(int(math.Floor(at)), len(m.Enough)-2)
	return m.Enough[i] + (at-float64(i))*(m.Enough[i+1]-m.Enough[i])
}

// bodyAt is the transmissivity of the body at the bottom of a hole that would end its
// screen above a cell, by the names given, and how many cells it has.
func (p *Pack) bodyAt(h *hole, b *bodies, roof, end int) (t float64, cells int) {
	from := end
	for from > roof && h.named[from-1] >= 0 && p.gives(h.named[from-1]) {
		from--
	}
	for z := from; z < end; z++ {
		t = p.together(t, b.cell[p.Yield.within(z)][h.named[z]])
	}
	return t, end - from
}
