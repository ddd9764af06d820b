package near

import "math"

// Found is one point of an answer.
type Found struct {
	D2 float64 // squared distance
	At int     // place in the tree's Order
}

// Query asks one tree, reusing its memory. Take one for each goroutine.
type Query struct {
	tree   *Tree
	x, y   float64
	most   int
	skip   int
	before int
	limit  float64
	found  []Found
}

// Query returns a new query.
func (t *Tree) Query() *Query { return &Query{tree: t} }

// Nearest returns the nearest points, nearest first, ties in the order the points were
// given.
//
//   - Shapes: at most most points, all within limit2; the index skip is left out (-1
//     leaves out none). The answer is valid until the next question.
//   - Units: limit2 is a squared distance, inclusive; infinite for no limit.
//   - Cost: O(log n + most) on average, no allocation once an answer was that long.
//   - Checked by: TestNearestIsLinearScan.
func (q *Query) Nearest(x, y float64, most, skip int, limit2 float64) []Found {
	return q.run(x, y, most, skip, math.MaxInt, limit2)
}

// Earlier returns the nearest of the points whose index is below before.
//
//   - Shapes: as Nearest.
//   - Checked by: TestEarlierIsLinearScan.
func (q *Query) Earlier(x, y float64, most, before int) []Found {
	return q.run(x, y, most, -1, before, math.Inf(1))
}

func (q *Query) run(x, y float64, most, skip, before int, limit2 float64) []Found {
	q.x, q.y, q.most, q.skip, q.before, q.limit = x, y, most, skip, before, limit2
	q.found = q.found[:0]
	if len(q.tree.order) > 0 && most > 0 && before > 0 {
		q.visit(0)
	}
	return q.found
}

func (q *Query) visit(i int) {
	b := &q.tree.nodes[i]
	if b.left == 0 {
		q.scan(b.start, b.end)
		return
	}
	near, far := b.left, b.left+1
	dNear, dFar := q.distance2(near), q.distance2(far)
	if dFar < dNear {
		near, far, dNear, dFar = far, near, dFar, dNear
	}
	if dNear <= q.limit {
		q.visit(near)
	}
	if dFar <= q.limit {
		q.visit(far)
	}
}

// distance2 is the squared distance to a node, infinite when it holds no point wanted.
func (q *Query) distance2(i int) float64 {
	b := &q.tree.nodes[i]
	if b.first >= q.before {
		return math.NaN() // no comparison with it holds, not even with an infinite limit
	}
	return b.distance2(q.x, q.y)
}

func (q *Query) scan(start, end int) {
	xs, ys := q.tree.x[start:end], q.tree.y[start:end]
	for i, x := range xs {
		dx, dy := x-q.x, ys[i]-q.y
		if d2 := dx*dx + dy*dy; d2 <= q.limit && q.wanted(q.tree.order[start+i]) {
			q.insert(Found{d2, start + i})
		}
	}
}

func (q *Query) wanted(index int) bool { return index != q.skip && index < q.before }

// insert keeps the list sorted; for the few dozen points of a neighbourhood that
// beats a heap, and the result is needed in order.
func (q *Query) insert(f Found) {
	if len(q.found) < q.most {
		q.found = append(q.found, f)
	} else if !q.precedes(f, q.found[q.most-1]) {
		return
	}
	lo, hi := 0, len(q.found)-1
	for lo < hi {
		if m := (lo + hi) / 2; q.precedes(f, q.found[m]) {
			hi = m
		} else {
			lo = m + 1
		}
	}
	copy(q.found[lo+1:], q.found[lo:])
	q.found[lo] = f
	if len(q.found) == q.most {
		q.limit = min(q.limit, q.found[q.most-1].D2)
	}
}

func (q *Query) precedes(a, b Found) bool {
	if a.D2 != b.D2 {
		return a.D2 < b.D2
	}
	return q.tree.order[a.At] < q.tree.order[b.At]
}
