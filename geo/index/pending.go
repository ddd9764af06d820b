package index

// pending is a binary heap of hits, the nearest first, equal distances by ID.
type pending []Hit

// before reports whether the first hit is surely nearer than anything whose
// bound is that haversine. Equality is not enough: a tie may still come.
func (q pending) before(haversine float64) bool {
	return len(q) > 0 && haversineOf(q[0].DistanceM) < haversine
}

func nearer(a, b *Hit) bool {
	if a.DistanceM != b.DistanceM {
		return a.DistanceM < b.DistanceM
	}
	return a.ID < b.ID
}

func (q *pending) push(h Hit) {
	*q = append(*q, h)
	hits := *q
	for i := len(hits) - 1; i > 0; {
		parent := (i - 1) / 2
		if !nearer(&hits[i], &hits[parent]) {
			return
		}
		hits[i], hits[parent] = hits[parent], hits[i]
		i = parent
	}
}

func (q *pending) pop() Hit {
	hits := *q
	first, last := hits[0], len(hits)-1
	hits[0] = hits[last]
	*q = hits[:last]
	q.sink()
	return first
}

// sink moves the first hit down to its place.
func (q pending) sink() {
	for i := 0; ; {
		child := 2*i + 1
		if child >= len(q) {
			return
		}
		if child+1 < len(q) && nearer(&q[child+1], &q[child]) {
			child++
		}
		if !nearer(&q[child], &q[i]) {
			return
		}
		q[i], q[child] = q[child], q[i]
		i = child
	}
}
