package near

// EarlierWithin returns the indices of the points below before that lie within a squared
// distance, inclusive, in no particular order.
//
//   - Units: limit2 is a squared distance.
//   - Checked by: TestEarlierIsLinearScan.
func (t *Tree) EarlierWithin(x, y float64, before int, limit2 float64) []int {
	var out []int
	t.within(x, y, limit2, func(index int, _ float64) {
		if index < before {
			out = append(out, index)
		}
	})
	return out
}

// within calls f with the index and squared distance of every point within a squared
// distance, inclusive.
func (t *Tree) within(x, y, limit2 float64, f func(index int, d2 float64)) {
	if len(t.order) == 0 {
		return
	}
	open := make([]int, 1, 64) // the root
	for len(open) > 0 {
		b := &t.nodes[open[len(open)-1]]
		open = open[:len(open)-1]
		if b.distance2(x, y) > limit2 {
			continue
		}
		if b.left > 0 {
			open = append(open, b.left, b.left+1)
			continue
		}
		for i := b.start; i < b.end; i++ {
			dx, dy := t.x[i]-x, t.y[i]-y
			if d2 := dx*dx + dy*dy; d2 <= limit2 {
				f(t.order[i], d2)
			}
		}
	}
}
