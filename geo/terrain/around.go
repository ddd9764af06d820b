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
	RoughM      [2]float64 `json:"rough_m"`       // standard deviation of the ground within 250 and 500 m
}

// radii of the land about a place, metres, and those within which it is rough or flat.
var (
	radii  = [...]float64{1000, 3000, 6000}
	nearby = [...]float64{250, 500}
)

// spokes is how many steps a radius is cut into: the land about a place is looked at on a
// lattice, 197 cells for each radius.
const spokes = 8

// around looks about a place; missing where its own ground is. What lies beyond the edge
// is left out.
//
//   - Units: metres.
//   - Cost: 1,000 cells, about 30 µs in memory.
//   - Source: the deviation from mean elevation and the standard deviation of elevation,
//     Wilson and Gallant (2000), Terrain Analysis, section 3.2; height above the lowest
//     ground by the same windows.
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
		w := t.window(row, col, radius/spokes/height, radius/spokes/width)
		a.OverLowestM[i] = max(ground-w.lowest, 0)
		if i < len(a.OverMeanM) {
			a.OverMeanM[i] = ground - w.mean
		}
		if i == 1 {
			a.ReliefM = w.highest - w.lowest
		}
	}
	for i, radius := range nearby {
		a.RoughM[i] = t.window(row, col, radius/spokes/height, radius/spokes/width).sd
	}
	return geo.Some(a)
}

// window is what the ground within a radius is like.
type window struct{ lowest, mean, highest, sd float64 }

// window looks at the cells around one that lie on a lattice of steps given in cells.
func (t *Terrain) window(row, col, down, across float64) window {
	w := window{lowest: math.Inf(1), highest: math.Inf(-1)}
	square, n := 0.0, 0.0
	for i := -spokes; i <= spokes; i++ {
		for j := -spokes; j <= spokes; j++ {
			if i*i+j*j > spokes*spokes {
				continue
			}
			z, ok := t.ground.At(int(math.Round(row+float64(i)*down)), int(math.Round(col+float64(j)*across)))
			if !ok {
				continue
			}
			w.lowest, w.highest = min(w.lowest, z), max(w.highest, z)
			n++
			off := z - w.mean
			w.mean += off / n
			square += off * (z - w.mean)
		}
	}
	w.sd = math.Sqrt(square / n)
	return w
}
