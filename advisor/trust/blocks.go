package trust

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/geo/coord"
)

// Blocks are squares of land that are hidden whole.
type Blocks struct {
	Origin coord.LonLat `json:"origin"` // of the plane in which they lie: a corner of four squares
	SideM  float64      `json:"sideM"`
	ReachM float64      `json:"reachM"` // how far evidence reaches; a side below it leaves the score too kind
	Count  int          `json:"count"`
}

// The squares are cut to the reach of evidence, and halved while fewer than these hold
// bores: a region must not be hidden as a whole.
const (
	wantedBlocks = 10
	narrowestM   = 500
)

// blocksOf cuts the land of some bores into squares and returns the square of each.
func blocksOf(bores []*evidence.Bore, reachM float64) (of []int, b Blocks) {
	if len(bores) == 0 {
		return nil, Blocks{ReachM: reachM}
	}
	plane := coord.NewPlane(bores[0].Pos)
	b = Blocks{Origin: bores[0].Pos, SideM: max(reachM, narrowestM), ReachM: reachM}
	for {
		of, b.Count = squares(bores, plane, b.SideM)
		if b.Count >= wantedBlocks || b.SideM <= narrowestM {
			return of, b
		}
		b.SideM /= 2
	}
}

// squares numbers the squares that hold bores from south-west to north-east.
func squares(bores []*evidence.Bore, plane coord.Plane, sideM float64) (of []int, count int) {
	type square struct{ x, y int }
	at := make([]square, len(bores))
	for i, b := range bores {
		xy := plane.XY(b.Pos)
		at[i] = square{int(math.Floor(xy.X / sideM)), int(math.Floor(xy.Y / sideM))}
	}
	all := slices.Clone(at)
	slices.SortFunc(all, func(a, b square) int { return cmp.Or(a.y-b.y, a.x-b.x) })
	all = slices.Compact(all)
	number := make(map[square]int, len(all))
	for i, s := range all {
		number[s] = i
	}
	of = make([]int, len(bores))
	for i, s := range at {
		of[i] = number[s]
	}
	return of, len(all)
}

// dealt deals blocks to folds, the largest first and each to the fold with the fewest
// bores, so that the folds are about as large as each other.
func dealt(of []int, blocks, folds int) (foldOf []int) {
	sizes := make([]int, blocks)
	for _, b := range of {
		sizes[b]++
	}
	order := make([]int, blocks)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return sizes[b] - sizes[a] })
	foldOf = make([]int, blocks)
	load := make([]int, folds)
	for _, b := range order {
		fold := slices.Index(load, slices.Min(load))
		foldOf[b] = fold
		load[fold] += sizes[b]
	}
	return foldOf
}
