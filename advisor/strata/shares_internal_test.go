package strata

import (
	"math"
	"testing"

	"waterstrike/geo/soil"
)

// Shares by hand: a log of 2 m clay and 1 m sand that was refused, 6 cells in all.
func TestSharesByHand(t *testing.T) {
	log := Log{Cells: []soil.Class{2, 2, 2, 2, 4, 4}, Refused: true}
	for _, c := range []struct {
		from, to            int
		clay, sand, refused float64
	}{
		{0, 2, 1, 0, 0},
		{2, 6, 0.5, 0.5, 1},
		{4, 8, 0, 1, 1}, // half of it is described
		{5, 9, math.NaN(), math.NaN(), 1},
		{6, 12, math.NaN(), math.NaN(), 1}, // refused at its top
		{7, 12, math.NaN(), math.NaN(), math.NaN()},
	} {
		classes, refused := log.within(c.from, c.to)
		for _, v := range [][2]float64{{classes[soil.Clay-1], c.clay}, {classes[soil.Sand-1], c.sand}, {refused, c.refused}} {
			if v[0] != v[1] && !(math.IsNaN(v[0]) && math.IsNaN(v[1])) {
				t.Errorf("cells %d to %d: clay %v, sand %v, refused %v", c.from, c.to, classes[soil.Clay-1], classes[soil.Sand-1], refused)
			}
		}
	}
	log.Refused = false
	if _, refused := log.within(2, 6); !math.IsNaN(refused) {
		t.Errorf("a log that ended of itself tells of refusal: %v", refused)
	}
}
