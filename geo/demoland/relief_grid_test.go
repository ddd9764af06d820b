package demoland_test

import (
	"math"
	"testing"

	"waterstrike/geo/demoland"
)

// The grid covers every site, and is the relief to within its rounding and what the
// ground does within half a cell.
func TestGridIsTheRelief(t *testing.T) {
	land := demoland.New(4)
	grid, err := land.Grid(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	far := 0
	for _, p := range land.UniformSites(300, 1) {
		z, ok := grid.Value(p)
		if !ok {
			t.Fatalf("no elevation at %v", p)
		}
		if math.Abs(z-land.Elevation(p)) > 3 {
			far++
		}
	}
	if far > 6 {
		t.Errorf("%d of 300 elevations are more than 3 m off", far)
	}
}
