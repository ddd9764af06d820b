package strata

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// How the forest is grown. Every tree sees half of the logs and its cuts choose from a third
// of the terms, as is usual, so that trees differ; leaves of 6 and of 12 logs did as well.
const (
	trees         = 120
	mostSeen      = 400 // logs that a tree sees, at most
	leafLogs      = 8   // logs in a leaf, at least
	leastFollowed = 40  // logs with a known setting that it takes to learn how layers follow the land
)

// forestOf learns the forest from the logs. What a log has of a class within a range of depth,
// and whether it was refused there, are the responses; a cut is where their squares about the
// means of its two sides are least in all.
//
//   - Shapes: settings of the same length or nil.
//   - Cost: trees · mostSeen · log(mostSeen) · terms · responses, however many logs there are.
//   - Source: Breiman (2001); as weights of neighbours, Lin and Jeon (2006), Meinshausen (2006).
//   - Checked by: TestLayersFollowTheLand, TestLandThatTellsNothing, TestGainsByHand.
func forestOf(logs []Log) forest {
	var which []int
	var read []Log
	for i, log := range logs {
		if log.Setting != nil && log.Described() {
			which, read = append(which, i), append(read, log)
		}
	}
	if len(read) < leastFollowed {
		return forest{seen: make([][]bool, len(logs))}
	}
	g := grower{logs: read, responses: slices.DeleteFunc(shares(read), constant), rng: rand.New(rand.NewPCG(1, uint64(len(read))))}
	f := forest{seen: make([][]bool, len(logs))}
	for _, i := range which {
		f.seen[i] = make([]bool, trees)
	}
	n := min((len(read)+1)/2, mostSeen)
	for t := range trees {
		seen := g.rng.Perm(len(read))[:n]
		for _, i := range seen {
			f.seen[which[i]][t] = true
		}
		g.tree, g.leaves = nil, 0
		g.grow(seen)
		f.trees = append(f.trees, g.tree)
	}
	return f
}

// constant reports that a response is the same of all logs that tell.
func constant(of []float64) bool {
	first := math.NaN()
	for _, y := range of {
		if math.IsNaN(first) {
			first = y
		}
		if !math.IsNaN(y) && y != first {
			return false
		}
	}
	return true
}

// grower grows one tree after the other.
type grower struct {
	logs      []Log
	responses [][]float64 // by response and log; NaN where a log does not tell
	rng       *rand.Rand
	tree      tree
	leaves    uint8
}

// grow adds the tree of some logs and returns its place.
func (g *grower) grow(logs []int) int {
	place := len(g.tree)
	c := g.best(logs)
	g.tree = append(g.tree, c)
	if c.term == noTerm {
		g.tree[place].leaf = g.leaves
		g.leaves++
		return place
	}
	var left, right []int
	for _, i := range logs {
		if g.logs[i].Setting[c.term] < c.below {
			left = append(left, i)
		} else {
			right = append(right, i)
		}
	}
	l := g.grow(left)
	r := g.grow(right)
	g.tree[place].left, g.tree[place].right = l, r
	return place
}

// sameLand is what two terms of one land may differ by, by rounding: no cut parts them, and
// none has an empty side.
const sameLand = 1e-9

// best is the cut that gains most by one of some terms drawn; no cut where none gains.
func (g *grower) best(logs []int) cut {
	out, most := cut{term: noTerm}, 1e-9
	terms := len(g.logs[logs[0]].Setting)
	for _, term := range g.rng.Perm(terms)[:(terms+2)/3] {
		at := func(i int) float64 { return g.logs[i].Setting[term] }
		sorted := slices.Clone(logs)
		slices.SortFunc(sorted, func(a, b int) int { return cmp.Or(cmp.Compare(at(a), at(b)), a-b) })
		gains := g.gains(sorted)
		for n := leafLogs; n <= len(sorted)-leafLogs; n++ {
			if lo, hi := at(sorted[n-1]), at(sorted[n]); hi-lo > sameLand && gains[n] > most {
				out, most = cut{term: term, below: lo + (hi-lo)/2}, gains[n]
			}
		}
	}
	return out
}

// gains returns by how much a cut behind the first n logs lowers the sum of squares of all
// responses.
func (g *grower) gains(sorted []int) []float64 {
	out := make([]float64, len(sorted)+1)
	for _, y := range g.responses {
		sum, n := 0.0, 0.0
		for _, i := range sorted {
			if !math.IsNaN(y[i]) {
				sum, n = sum+y[i], n+1
			}
		}
		above, m := 0.0, 0.0
		for at, i := range sorted {
			if !math.IsNaN(y[i]) {
				above, m = above+y[i], m+1
			}
			if m > 0 && m < n {
				off := above/m - (sum-above)/(n-m)
				out[at+1] += off * off * m * (n - m) / n
			}
		}
	}
	return out
}
