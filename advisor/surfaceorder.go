package advisor

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo/coord"
)

// sideBySide lists places so that those that follow each other stand close together, in
// whatever order they were asked for.
//
// Source: Morton (1966), the order of interleaved digits.
func sideBySide(at []coord.LonLat) []int {
	order, keys := make([]int, len(at)), make([]uint32, len(at))
	west, south, widest := math.Inf(1), math.Inf(1), 1e-9
	for _, p := range at {
		if p.Valid() {
			west, south = min(west, p.Lon), min(south, p.Lat)
		}
	}
	for _, p := range at {
		if p.Valid() {
			widest = max(widest, p.Lon-west, p.Lat-south)
		}
	}
	const digits = 12
	for i, p := range at {
		order[i] = i
		if !p.Valid() {
			continue
		}
		x, y := uint32((p.Lon-west)/widest*(1<<digits-1)), uint32((p.Lat-south)/widest*(1<<digits-1))
		for bit := range digits {
			keys[i] |= (x>>bit&1)<<(2*bit) | (y>>bit&1)<<(2*bit+1)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(keys[i], keys[j]) })
	return order
}
