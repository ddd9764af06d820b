package krige

// leafSize is the most points of a bucket: about half of what a usual search
// returns, so that few buckets are opened in vain.
const leafSize = 12

// tree is a bucket tree over points. Boxes are split halfway, which keeps them
// square where the data are and follows clusters.
type tree struct {
	x, y  []float64 // in bucket order
	order []int     // bucket order -> index of the point given
	nodes []node
}

// node covers points [start, end); its children are at left and left+1.
type node struct {
	lo, hi     XY
	start, end int
	left       int // 0 in a bucket
}

func newTree(data []Datum) *tree {
	n := len(data)
	t := &tree{x: make([]float64, n), y: make([]float64, n), order: make([]int, n)}
	for i, d := range data {
		t.x[i], t.y[i], t.order[i] = d.X, d.Y, i
	}
	t.nodes = append(t.nodes, t.box(0, n))
	for i := 0; i < len(t.nodes); i++ {
		t.split(i)
	}
	return t
}

func (t *tree) box(start, end int) node {
	b := node{start: start, end: end}
	if start == end {
		return b
	}
	b.lo = XY{X: t.x[start], Y: t.y[start]}
	b.hi = b.lo
	for i := start + 1; i < end; i++ {
		b.lo = XY{X: min(b.lo.X, t.x[i]), Y: min(b.lo.Y, t.y[i])}
		b.hi = XY{X: max(b.hi.X, t.x[i]), Y: max(b.hi.Y, t.y[i])}
	}
	return b
}

// split divides a node at the middle of its longer side, unless it is small or all
// its points coincide.
func (t *tree) split(i int) {
	b := t.nodes[i]
	along, lo, hi := t.x, b.lo.X, b.hi.X
	if b.hi.Y-b.lo.Y > hi-lo {
		along, lo, hi = t.y, b.lo.Y, b.hi.Y
	}
	if b.end-b.start <= leafSize || lo == hi {
		return
	}
	middle := lo + (hi-lo)/2
	if middle >= hi {
		middle = lo // neighbouring floats: the upper side must not be empty
	}
	k := b.start
	for j := b.start; j < b.end; j++ {
		if along[j] <= middle {
			t.swap(j, k)
			k++
		}
	}
	t.nodes[i].left = len(t.nodes)
	t.nodes = append(t.nodes, t.box(b.start, k), t.box(k, b.end))
}

func (t *tree) swap(i, j int) {
	t.x[i], t.x[j] = t.x[j], t.x[i]
	t.y[i], t.y[j] = t.y[j], t.y[i]
	t.order[i], t.order[j] = t.order[j], t.order[i]
}

// distance2 is the squared distance from a point to the node's box.
func (b *node) distance2(at XY) float64 {
	dx := max(b.lo.X-at.X, 0, at.X-b.hi.X)
	dy := max(b.lo.Y-at.Y, 0, at.Y-b.hi.Y)
	return dx*dx + dy*dy
}
