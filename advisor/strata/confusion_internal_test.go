package strata

import (
	"math"
	"testing"

	"waterstrike/geo/soil"
)

// What a described layer may be instead is what is found around, by hand; never more than crews
// mistake, and the usual mistakes where nothing is known.
func TestMeantOfWhatIsFound(t *testing.T) {
	layer := interval{class: soil.Clay, from: 2, to: 4}
	here := make([]row, 5)
	is := func(odds row) row {
		for z := range here {
			here[z] = odds
		}
		return meantHere(layer, here)
	}
	// Clay is taken for silt and for weathered rock alike: 0.9·0.95 against 0.1·0.025.
	silt := is(row{soil.Clay - 1: 0.9, soil.Silt - 1: 0.1})
	want := 0.1 * 0.025 / (0.9*0.95 + 0.1*0.025)
	if math.Abs(silt[soil.Silt-1]-want) > 1e-12 || silt[soil.WeatheredRock-1] != 0 || math.Abs(silt[soil.Clay-1]+want-1) > 1e-12 {
		t.Errorf("among clay and silt: %v", silt)
	}
	rock := is(row{soil.Clay - 1: 0.001, soil.WeatheredRock - 1: 0.999})
	if rock[soil.Clay-1] != 1-mistaken || math.Abs(rock[soil.WeatheredRock-1]-mistaken) > 1e-12 {
		t.Errorf("clay amid weathered rock: %v", rock)
	}
	if sand := is(row{soil.Sand - 1: 1}); sand != meant(soil.Clay) {
		t.Errorf("where neither it nor its likes are found: %v", sand)
	}
	if below := meantHere(interval{class: soil.Clay, from: 7, to: 9}, here); below != meant(soil.Clay) {
		t.Errorf("below what is known: %v", below)
	}
}
