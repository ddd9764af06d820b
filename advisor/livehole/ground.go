package livehole

// ground numbers the states of one method's way down. A place is a passable class, and in
// ground of which only so much can be crossed also the cells of it since it began. With a
// place go how much was crossed, in the whole hole, of the one class that may be crossed
// farthest, and where the class gives water the bin of transmissivity.
type ground struct {
	class   []int // of each place
	begins  []int // first state of each block, a place with what was crossed; and the end of the last
	main    int   // the class counted over the whole hole, -1 for none
	crossed int   // most cells of it
	giving  [classes]bool
	first   [classes]int   // place of each class
	count   [classes]int   // places of each class; 0 where it stops the bit
	next    [][classes]int // place after one more cell of a class, -1 where it stops the bit
}

// The bins of a body's transmissivity: none, one cell alone (a screen needs two), and from
// atLeastTwo on those of [Yield].
const (
	oneCell    = 1
	atLeastTwo = 2
)

func (p *Pack) ground(m *Method) *ground {
	g := &ground{main: -1, begins: []int{0}}
	for k, most := range m.Cross {
		if most < p.Cells && most > g.crossed {
			g.main, g.crossed = k, most
		}
	}
	for k, most := range m.Cross {
		g.first[k], g.count[k], g.giving[k] = len(g.class), min(most, 1), p.gives(k)
		if most < p.Cells && k != g.main {
			g.count[k] = most
		}
		for range g.count[k] {
			g.addPlace(p, k)
		}
	}
	for at, from := range g.class {
		var next [classes]int
		for k := range next {
			next[k] = g.first[k]
			onward := k == from && m.Cross[k] < p.Cells && k != g.main
			if onward {
				next[k] = at + 1
			}
			if next[k] == g.first[k]+g.count[k] {
				next[k] = -1
			}
		}
		g.next = append(g.next, next)
	}
	return g
}

func (g *ground) addPlace(p *Pack, class int) {
	bins := 1
	if p.gives(class) {
		bins = atLeastTwo + len(p.Yield.Bins)
	}
	g.class = append(g.class, class)
	for range g.crossed + 1 {
		g.begins = append(g.begins, g.begins[len(g.begins)-1]+bins)
	}
}

// enter is the place of a class that was met anew, or has gone on for a run of cells; -1
// where the method does not pass it at all.
func (g *ground) enter(class, run int) int {
	if g.count[class] == 0 {
		return -1
	}
	return g.first[class] + min(max(run, 1), g.count[class]) - 1
}

// run is how many cells at the bottom of a hole were named as one class.
func (h *hole) run() (class, cells int) {
	class = -1
	if h.cells > 0 {
		class = h.named[h.cells-1]
	}
	for z := h.cells - 1; z >= 0 && h.named[z] == class; z-- {
		cells++
	}
	return class, cells
}

// crossedSoFar is how much of its main class a hole has crossed, by the names given.
func (g *ground) crossedSoFar(h *hole) int {
	n := 0
	for _, class := range h.named {
		if class == g.main && class >= 0 {
			n++
		}
	}
	return min(n, g.crossed)
}
