package tile

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
)

// spot is one thing on the map: where it is, which it is, of what kind, and what it is
// filtered by, so that filtering goes through one list from end to end.
type spot struct {
	at     place
	i      uint32 // in the list that it comes from
	kind   uint8  // below kinds
	method uint8  // number of a method
	year   uint16 // of completion; 0 where it is not known
	depth  int32  // tenths of a metre; -1 where it is not known
}

// kinds is how many kinds of things can be told apart in a group.
const kinds = 8

// spots are things in the order of their places, with their sums so far at every
// blockSize of them: the sums of any run of the list are then known without going through
// it.
type spots struct {
	list []spot
	sums []heap
}

const blockSize = 256

func newSpots(list []spot) spots {
	slices.SortFunc(list, func(a, b spot) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.i, b.i)) })
	s := spots{list: list}
	var sum heap
	for i, a := range list {
		if i%blockSize == 0 {
			s.sums = append(s.sums, sum)
		}
		sum.add(a)
	}
	return s
}

// run is a part of the list: from the first number until before the last.
type run struct{ from, to int }

// in returns those of a run that lie in a tile.
func (s spots) in(t maptile.Tile, of run) run {
	first, last := span(t)
	part := s.list[of.from:of.to]
	from, _ := slices.BinarySearchFunc(part, first, func(a spot, p place) int { return cmp.Compare(a.at, p) })
	to := len(part)
	if last != ^place(0) {
		to, _ = slices.BinarySearchFunc(part, last+1, func(a spot, p place) int { return cmp.Compare(a.at, p) })
	}
	return run{of.from + from, of.from + to}
}

// until returns the sums of all before a number.
func (s spots) until(n int) heap {
	if n == 0 {
		return heap{}
	}
	block := (n - 1) / blockSize
	sum := s.sums[block]
	for _, a := range s.list[block*blockSize : n] {
		sum.add(a)
	}
	return sum
}

// sum returns the sums of a run, of those that fit; nil fits all.
func (s spots) sum(of run, fits func(spot) bool) (sum heap) {
	if fits == nil {
		return s.until(of.to).less(s.until(of.from))
	}
	for _, a := range s.list[of.from:of.to] {
		if fits(a) {
			sum.add(a)
		}
	}
	return sum
}

// group is the things of one part of a tile told as one.
type group struct {
	at     orb.Point // their middle, in the tile's coordinates
	of     run       // they are among these
	n      int
	counts [kinds]int
}

// A tile shows at most mostSingle things one by one; with more of them each of its parts
// becomes a group, eight by eight of them, unless it holds a single thing.
const (
	mostSingle = 600
	partsBits  = 3
)

// tell returns what a tile shows of those that fit, nil for all: single things, and groups
// of them.
func (s spots) tell(t maptile.Tile, fits func(spot) bool) (single []spot, groups []group) {
	all := s.in(t, run{0, len(s.list)})
	if fits == nil && all.to-all.from > mostSingle {
		return s.grouped(t, all, fits)
	}
	for _, a := range s.list[all.from:all.to] {
		if fits == nil || fits(a) {
			if single = append(single, a); len(single) > mostSingle {
				return s.grouped(t, all, fits)
			}
		}
	}
	return single, nil
}

func (s spots) grouped(t maptile.Tile, all run, fits func(spot) bool) (single []spot, groups []group) {
	first, last := t.Range(t.Z + partsBits)
	for x := first.X; x <= last.X; x++ {
		for y := first.Y; y <= last.Y; y++ {
			part := s.in(maptile.New(x, y, t.Z+partsBits), all)
			switch sum := s.sum(part, fits); sum.n {
			case 0:
			case 1:
				single = append(single, sum.last)
			default:
				groups = append(groups, sum.group(t, part))
			}
		}
	}
	return single, groups
}

// heap adds up the things of a group.
type heap struct {
	x, y   uint64
	n      int
	last   spot
	counts [kinds]int
}

func (h *heap) add(s spot) {
	x, y := s.at.xy()
	h.x, h.y = h.x+uint64(x), h.y+uint64(y)
	h.n++
	h.counts[s.kind]++
	h.last = s
}

// less returns the sums without those of what came before.
func (h heap) less(before heap) heap {
	h.x, h.y, h.n = h.x-before.x, h.y-before.y, h.n-before.n
	for i := range h.counts {
		h.counts[i] -= before.counts[i]
	}
	return h
}

func (h heap) group(t maptile.Tile, of run) group {
	n := uint64(h.n)
	return group{at: within(t, uint32(h.x/n), uint32(h.y/n)), of: of, n: h.n, counts: h.counts}
}
