package krige

// found is one point of a query: squared distance and place in bucket order.
type found struct {
	d2 float64
	at int
}

// query collects the nearest points, nearest first, ties in the order the points
// were given.
type query struct {
	tree  *tree
	at    XY
	most  int
	skip  int     // a point left out, by its index; -1 for none
	limit float64 // squared distance beyond which nothing is wanted
	found []found
}

// run finds at most most points within the squared distance limit.
func (q *query) run(at XY, most, skip int, limit float64) {
	q.at, q.most, q.skip, q.limit = at, most, skip, limit
	q.found = q.found[:0]
	if len(q.tree.order) > 0 {
		q.visit(0)
	}
}

func (q *query) visit(i int) {
	b := &q.tree.nodes[i]
	if b.left == 0 {
		q.scan(b.start, b.end)
		return
	}
	near, far := b.left, b.left+1
	dNear, dFar := q.tree.nodes[near].distance2(q.at), q.tree.nodes[far].distance2(q.at)
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

func (q *query) scan(start, end int) {
	xs, ys := q.tree.x[start:end], q.tree.y[start:end]
	for i, x := range xs {
		dx, dy := x-q.at.X, ys[i]-q.at.Y
		if d2 := dx*dx + dy*dy; d2 <= q.limit && q.tree.order[start+i] != q.skip {
			q.insert(found{d2, start + i})
		}
	}
}

// insert keeps the list sorted; for the few dozen points of a neighbourhood that
// beats a heap, and the result is needed in order.
func (q *query) insert(f found) {
	if len(q.found) < q.most {
		q.found = append(q.found, f)
	} else if !q.before(f, q.found[q.most-1]) {
		return
	}
	i := len(q.found) - 1
	for ; i > 0 && q.before(f, q.found[i-1]); i-- {
		q.found[i] = q.found[i-1]
	}
	q.found[i] = f
	if len(q.found) == q.most {
		q.limit = min(q.limit, q.found[q.most-1].d2)
	}
}

func (q *query) before(a, b found) bool {
	if a.d2 != b.d2 {
		return a.d2 < b.d2
	}
	return q.tree.order[a.at] < q.tree.order[b.at]
}
