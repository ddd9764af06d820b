package advisor

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/geo/coord"
)

// roaming finds the bores nearest to one place after another, and what each says. Places of
// a surface stand side by side and have most of their neighbours in common, so that one
// wide search serves many, and each bore is read once. What it finds does not depend on
// where it was asked before.
type roaming[T any] struct {
	search func(p coord.LonLat, n int) []evidence.Near
	read   func(*evidence.Bore) T
	n      int

	memory  map[*evidence.Bore]T
	known   []heardOf[T] // found by the last search
	from    coord.Space  // the place that was searched from
	surelyM float64      // no other bore is nearer to it
	last    coord.Space  // the place asked about last
	withinM float64      // the n-th bore from there
	picked  []picked
	out     []beside[T]
}

// heardOf is a known bore with where it stands.
type heardOf[T any] struct {
	*evidence.Bore
	at   coord.Space
	says T
}

// beside is a bore near a place with what it says.
type beside[T any] struct {
	evidence.Near
	says *T
}

// picked is the place of a known bore with the chord to it.
type picked struct {
	chordM float64
	of     int32
}

const (
	wider = 4 // how many times as many bores a wide search finds
	spare = 8 // how many more any search finds: bores as far as each other have another order by chords
	// farM is a distance beyond which chords tell the distance over the ground too badly.
	farM = 1_000_000
	// sameOrder is the part of a chord within which a bore surely is nearer by the ground
	// too.
	sameOrder = 0.99
)

// near returns the bores nearest to a place, nearest first, with distances over the ground
// as [coord.ArcM] has them. It is valid until the next place is asked about.
func (r *roaming[T]) near(p coord.LonLat) []beside[T] {
	at := coord.InSpace(p)
	moved := at.ChordM(r.last)
	if !r.pick(at, moved) {
		n := r.n + spare
		if moved < r.withinM {
			n *= wider
		}
		r.look(p, at, n)
		r.pick(at, 0)
	}
	r.last, r.withinM, r.out = at, 0, r.out[:0]
	if n := len(r.picked); n > 0 {
		r.withinM = r.picked[n-1].chordM
	}
	if r.withinM > farM {
		for _, n := range r.search(p, r.n) {
			says := r.reading(n.Bore)
			r.out = append(r.out, beside[T]{n, &says})
		}
		return r.out
	}
	for _, k := range r.picked {
		b := &r.known[k.of]
		r.out = append(r.out, beside[T]{evidence.Near{Bore: b.Bore, DistanceM: coord.ArcM(k.chordM)}, &b.says})
	}
	return r.out
}

// look searches for n bores.
func (r *roaming[T]) look(p coord.LonLat, at coord.Space, n int) {
	r.known, r.from, r.surelyM, r.withinM = r.known[:0], at, math.Inf(1), math.Inf(1)
	for _, b := range r.search(p, n) {
		r.known = append(r.known, heardOf[T]{b.Bore, coord.InSpace(b.Pos), r.reading(b.Bore)})
	}
	if len(r.known) == n {
		r.surelyM = sameOrder * at.ChordM(r.known[n-1].at)
	}
}

// reading reads a bore once.
func (r *roaming[T]) reading(b *evidence.Bore) T {
	says, ok := r.memory[b]
	if !ok {
		says = r.read(b)
		r.memory[b] = says
	}
	return says
}

// pick takes the n nearest of those known; it reports whether they surely are the nearest
// of all. The last place is so far off.
func (r *roaming[T]) pick(at coord.Space, movedM float64) bool {
	r.picked = r.picked[:0]
	atMost := r.withinM + movedM + 1e-3 // the n nearest of the last place are no farther
	for i := range r.known {
		if c := at.ChordM(r.known[i].at); c <= atMost {
			r.picked = append(r.picked, picked{c, int32(i)})
		}
	}
	slices.SortFunc(r.picked, func(a, b picked) int {
		switch {
		case a.chordM < b.chordM:
			return -1
		case a.chordM > b.chordM:
			return 1
		}
		return cmp.Compare(r.known[a.of].ID, r.known[b.of].ID)
	})
	r.picked = r.picked[:min(r.n, len(r.picked))]
	n := len(r.picked)
	return math.IsInf(r.surelyM, 1) || n > 0 && n == r.n && r.picked[n-1].chordM <= r.surelyM-at.ChordM(r.from)
}
