package demoland

// cellM is the side of one bucket.
const cellM = 1500.0

// cornerM is the distance from the middle of a bucket to its corner, rounded up.
const cornerM = 0.71 * cellM

// buckets finds what may matter at a point without looking at everything.
type buckets[T any] struct {
	items []T
	cells [][]int32
	side  int
}

func newBuckets[T any]() *buckets[T] {
	side := int(2 * (halfM + marginM) / cellM)
	return &buckets[T]{side: side, cells: make([][]int32, side*side)}
}

func (b *buckets[T]) index(x float64) int {
	return int(clamp((x+halfM+marginM)/cellM, 0, float64(b.side-1)))
}

// add keeps item in every bucket within reachM of p.
func (b *buckets[T]) add(item T, p pt, reachM float64) {
	b.items = append(b.items, item)
	for i := b.index(p.u - reachM); i <= b.index(p.u+reachM); i++ {
		for j := b.index(p.v - reachM); j <= b.index(p.v+reachM); j++ {
			if b.middle(i, j).minus(p).length() <= reachM+cornerM {
				b.cells[i*b.side+j] = append(b.cells[i*b.side+j], int32(len(b.items)-1))
			}
		}
	}
}

// middle returns the middle of bucket (i, j).
func (b *buckets[T]) middle(i, j int) pt {
	return pt{(float64(i)+0.5)*cellM - halfM - marginM, (float64(j)+0.5)*cellM - halfM - marginM}
}

// near returns the items that may matter at p, in the order they were added.
func (b *buckets[T]) near(p pt) []int32 { return b.cells[b.index(p.u)*b.side+b.index(p.v)] }
