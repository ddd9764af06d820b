package terrain

// front is the edge of a flood: the cells reached whose neighbours have not been, lowest
// first, those of one level in the order they were reached. A cell reached at the level
// of the flood waits in a plain queue: in hollows and on flats no heap is needed.
type front struct {
	heap  []reached
	queue []reached // all at level
	head  int       // of queue
	level float32
	count uint32
}

type reached struct {
	z     float32
	order uint32
	cell  uint32
}

func (a reached) before(b reached) bool { return a.z < b.z || a.z == b.z && a.order < b.order }

// push adds a cell reached at z, which is not below the flood.
func (f *front) push(z float32, cell int) {
	r := reached{z, f.count, uint32(cell)}
	f.count++
	if r.z > f.level {
		f.rise(r)
		return
	}
	f.queue = append(f.queue, r)
}

// pop takes the next cell; false when none is left.
func (f *front) pop() (reached, bool) {
	if f.head == len(f.queue) {
		f.queue, f.head = f.queue[:0], 0
		if len(f.heap) == 0 {
			return reached{}, false
		}
		return f.fall(), true
	}
	if r := f.queue[f.head]; len(f.heap) == 0 || r.before(f.heap[0]) {
		f.head++
		return r, true
	}
	return f.fall(), true
}

// rise puts r into the heap.
func (f *front) rise(r reached) {
	f.heap = append(f.heap, r)
	i := len(f.heap) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !r.before(f.heap[up]) {
			break
		}
		f.heap[i], i = f.heap[up], up
	}
	f.heap[i] = r
}

// fall takes the lowest out of the heap and raises the flood to it.
func (f *front) fall() reached {
	top, last := f.heap[0], f.heap[len(f.heap)-1]
	f.heap = f.heap[:len(f.heap)-1]
	f.level = top.z
	n := len(f.heap)
	i := 0
	for n > 0 {
		down := 2*i + 1
		if down+1 < n && f.heap[down+1].before(f.heap[down]) {
			down++
		}
		if down >= n || !f.heap[down].before(last) {
			f.heap[i] = last
			break
		}
		f.heap[i], i = f.heap[down], down
	}
	return top
}
