package near

import (
	"math"
	"slices"
)

// FarthestFirst orders points: first the one nearest to the middle of all, then always
// the one that lies farthest from the nearest of those before it ("max-min order").
//
//   - Shapes: as many y as x; the answer holds every index once.
//   - Units: any, the same for both.
//   - Domain: finite numbers. Ties go to the point given first.
//   - Cost: O(n log² n) for points that fill a plane; 100,000 take about 1 s.
//   - Source: Guinness (2018), Technometrics 60, section 3, for the order; that only
//     points within the last distance can change is Schäfer, Katzfuss and Owhadi
//     (2021), SIAM J. Sci. Comput. 43, section 4.1.
//   - Checked by: TestFarthestFirstIsGreedy.
func FarthestFirst(x, y []float64) []int {
	n := len(x)
	if n == 0 {
		return nil
	}
	tree := NewTree(x, y)
	q := newQueue(n)
	first := nearestToMiddle(x, y)
	q.lower(first, math.Inf(-1)) // taken
	order := append(make([]int, 0, n), first)
	reach := math.Inf(1)
	for {
		last := order[len(order)-1]
		tree.within(x[last], y[last], reach, q.lower)
		if len(order) == n {
			return order
		}
		next := q.heap[0]
		reach = q.d2[next]
		order = append(order, next)
		q.lower(next, math.Inf(-1))
	}
}

func nearestToMiddle(x, y []float64) int {
	mx, my := middle(x), middle(y)
	best, least := 0, math.Inf(1)
	for i := range x {
		dx, dy := x[i]-mx, y[i]-my
		if d2 := dx*dx + dy*dy; d2 < least {
			best, least = i, d2
		}
	}
	return best
}

func middle(v []float64) float64 {
	lo, hi := slices.Min(v), slices.Max(v)
	return lo + (hi-lo)/2
}

// queue holds every point under its squared distance to those taken, the farthest on
// top, ties by index.
type queue struct {
	d2   []float64
	heap []int // indices
	at   []int // place of each index in heap
}

func newQueue(n int) *queue {
	q := &queue{d2: make([]float64, n), heap: make([]int, n), at: make([]int, n)}
	for i := range n {
		q.d2[i], q.heap[i], q.at[i] = math.Inf(1), i, i
	}
	return q
}

// lower moves a point down to a distance, unless it is nearer already.
func (q *queue) lower(i int, d2 float64) {
	if d2 >= q.d2[i] {
		return
	}
	q.d2[i] = d2
	at := q.at[i]
	for {
		child := 2*at + 1
		if child >= len(q.heap) {
			break
		}
		if child+1 < len(q.heap) && q.above(q.heap[child+1], q.heap[child]) {
			child++
		}
		if !q.above(q.heap[child], i) {
			break
		}
		q.put(at, q.heap[child])
		at = child
	}
	q.put(at, i)
}

func (q *queue) put(at, i int) { q.heap[at], q.at[i] = i, at }

func (q *queue) above(i, j int) bool {
	if q.d2[i] != q.d2[j] {
		return q.d2[i] > q.d2[j]
	}
	return i < j
}
