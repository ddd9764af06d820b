package programme

import (
	"cmp"
	"math"
	"slices"
)

// pairColumns is how many columns exchanges of two villages for two look at; nearly all that
// are better are found among the first. Small budgets need such exchanges: of fifteen
// villages no single exchange fits what another one leaves.
const pairColumns = 100

// nearest lists the columns of a list with least regret.
func nearest(got *relaxed, list []int32) []int32 {
	list = slices.SortedFunc(slices.Values(list), func(a, b int32) int {
		return cmp.Or(cmp.Compare(got.regret[a], got.regret[b]), cmp.Compare(a, b))
	})
	return list[:min(len(list), pairColumns)]
}

// exchangePairs takes two villages out and puts in the two columns of a list that use the
// room best, or one, until that no longer helps. It returns how many columns it looked at.
// Where more counts than people on average it does nothing: each look would be dear.
func (d *draft) exchangePairs(list []int32) (work int) {
	for again := d.plain() && d.fits(); again; {
		again = false
		in := d.loose()
		for i, u := range in {
			for _, v := range in[:i] {
				if d.pick[u] >= 0 && d.pick[v] >= 0 && d.pairFor(u, v, list, &work) {
					again = true
				}
			}
		}
	}
	return work
}

// loose lists the villages that are in and need not be.
func (d *draft) loose() (in []int32) {
	for v, j := range d.pick {
		if j >= 0 && d.m.goal.out[v] == 0 {
			in = append(in, int32(v))
		}
	}
	return in
}

// pairFor makes the best use of the room of two villages; false where that is theirs.
func (d *draft) pairFor(u, v int32, list []int32, work *int) bool {
	before := d.score()
	was := [2]int32{d.pick[u], d.pick[v]}
	d.set(u, left)
	d.set(v, left)
	one, two := d.bestPair(list, before+1e-9*math.Abs(before), work)
	if one == left {
		d.set(u, was[0])
		d.set(v, was[1])
		return false
	}
	for _, j := range []int32{one, two} {
		if j != left {
			d.set(d.m.cols[j].village, j)
		}
	}
	return true
}

// bestPair returns the one or two columns of a list that fit beside what is in and score
// most, if more than best.
func (d *draft) bestPair(list []int32, best float64, work *int) (one, two int32) {
	var can []int32
	base, most := d.score(), 0.0
	for _, j := range list {
		if v := d.m.cols[j].village; d.pick[v] < 0 && !d.tight(v, j) {
			can, most = append(can, j), max(most, d.people(j))
		}
	}
	*work += len(list)
	one, two = left, left
	for i, a := range can {
		score := base + d.people(a)
		if score+most <= best {
			continue
		}
		d.set(d.m.cols[a].village, a)
		if score > best {
			one, two, best = a, left, score
		}
		for _, b := range can[:i] {
			if score+d.people(b) > best && d.pick[d.m.cols[b].village] < 0 && !d.tight(d.m.cols[b].village, b) {
				one, two, best = a, b, score+d.people(b)
			}
		}
		*work += i
		d.set(d.m.cols[a].village, left)
	}
	return one, two
}
