package strata

import (
	"math"
	"testing"

	"waterstrike/geo/soil"
)

// A layer of n cells that is called clay where weathered rock is all but sure costs one slip of
// a crew, not n of them; by hand, with the naming of likes.
func TestAMisnamedLayerIsOneSlip(t *testing.T) {
	odds := row{soil.Clay - 1: 0.1, soil.WeatheredRock - 1: 0.9}
	for _, n := range []int{1, 2, 20} {
		cells := make([]row, n)
		for z := range cells {
			cells[z] = odds
		}
		right, slip := math.Pow(0.1, float64(n)), math.Pow(0.9, float64(n))
		// Clay is named clay 19 times in 20; weathered rock 1 time in 40, as topsoil and silt are,
		// whose odds of 0 count as the floor of every log score.
		floor := math.Pow(1e-4, float64(n))
		want := -math.Log(0.95*right + 0.025*slip + 2*0.025*floor)
		if got := calling(soil.Clay, cells); math.Abs(got-want) > 1e-9 {
			t.Errorf("%d cells cost %.6f nats, by hand %.6f", n, got, want)
		}
	}
}

// What is said of a described log is scored layer by layer, each range of depth for itself.
func TestScoreByDepth(t *testing.T) {
	log := Log{Cells: make([]soil.Class, 50)}
	odds := make([]row, 50)
	for z := range log.Cells {
		log.Cells[z] = soil.Clay
		odds[z] = row{soil.Clay - 1: 0.5, soil.Silt - 1: 0.5}
	}
	log.Cells[5], log.Cells[6] = soil.Unknown, soil.Unknown
	x := trial{cells: log.Cells, layers: log.intervals()}
	pieces := byDepth{
		calling(soil.Clay, odds[:5]) + calling(soil.Clay, odds[7:20]), calling(soil.Clay, odds[20:40]), calling(soil.Clay, odds[40:]),
	}
	if got := x.byDepth(odds); got != pieces {
		t.Errorf("%v, want %v", got, pieces)
	}
	if got, want := x.score(odds), pieces[0]+pieces[1]+pieces[2]; math.Abs(got-want) > 1e-12 {
		t.Errorf("%v in all, want %v", got, want)
	}
}
