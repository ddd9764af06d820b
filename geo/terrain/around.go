package terrain

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Around is where a place stands in the land about it.
type Around struct {
	OverLowestM [3]float64 `json:"over_lowest_m"` // height above the lowest ground within 1, 3 and 6 km
	OverMeanM   [2]float64 `json:"over_mean_m"`   // height above the mean of the ground within 1 and 3 km; negative in hollows
	ReliefM     float64    `json:"relief_m"`      // from the lowest to the highest ground within 3 km
}

// radii of the land about a place, metres.
var radii = [...]float64{1000, 3000, 6000}

// spokes is how many steps a radius is cut into: the land about a place is looked at on a
// lattice, 197 cells for each radius.
const spokes = 8

// around looks about a place; missing where its own ground is. What lies beyond the edge
// is left out.
//
//   - Units: metres.
//   - Cost: 600 cells, about 20 µs in memory.
//   - Source: the deviation from mean elevation, Wilson and Gallant (2000), Terrain
//     Analysis, section 3.2; height above the lowest ground by the same windows.
//   - Checked by: TestAroundByHand.
func (t *Terrain) around(p coord.LonLat) (out geo.Opt[Around]) {
	row, col, ok := t.Cell(p)
	if !ok {
		return out
	}
	ground, ok := valueAt(t.Frame, t.ground, p)
	if !ok {
		return out
	}
	width, height := t.CellM(max(0, min(int(row+0.5), t.Rows-1)))
	var a Around
	for i, radius := range radii {
		lowest, mean, highest := t.lattice(row, col, radius/spokes/height, radius/spokes/width)
		a.OverLowestM[i] = max(ground-lowest, 0)
		if i < len(a.OverMeanM) {
			a.OverMeanM[i] = ground - mean
		}
		if i == 1 {
			a.ReliefM = highest - lowest
		}
	}
	return geo.Some(a)
}

// lattice returns the lowest, mean and highest of the cells around one that lie on a
// lattice of steps given in cells.
func (t *Terrain) lattice(row, col, down, across float64) (lowest, mean, highest float64) {
	lowest, highest = math.Inf(1), math.Inf(-1)
	sum, n := 0.0, 0
	for i := -spokes; i <= spokes; i++ {
		for j := -spokes; j <= spokes; j++ {
			if i*i+j*j > spokes*spokes {
				continue
			}
			z, ok := t.ground.At(int(math.Round(row+float64(i)*down)), int(math.Round(col+float64(j)*across)))
			if !ok {
				continue
			}
			lowest, highest = min(lowest, z), max(highest, z)
			sum, n = sum+z, n+1
		}
	}
	return lowest, sum / float64(n), highest
}
