package sheet

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
)

// metresPerDegree is the length of a degree of a meridian, near enough for squares.
const metresPerDegree = 111_320

// cell is a square of a fixed grid over the globe.
type cell struct{ row, column int }

// Blur moves each bore to a place in its square of a fixed grid that tells nothing more of
// where it stands. The bores of one square are set out in rows, in the order of their
// outcomes, so that each still shows. Asking again, or for another view, gives the same
// places: nothing can be averaged out.
//
//   - Units: sideM is the side of a square in metres, at least 1.
//   - Domain: away from the poles; at 80 degrees a square is still one to 2 %.
//   - Errors: none; no bores give no bores.
func Blur(bores []MapBore, sideM float64) []MapBore {
	step := sideM / metresPerDegree
	grid := map[cell][]MapBore{}
	for _, b := range bores {
		at := cellOf(b.At, step)
		grid[at] = append(grid[at], b)
	}
	out := make([]MapBore, 0, len(bores))
	for at, within := range grid {
		slices.SortFunc(within, func(a, b MapBore) int { return cmp.Compare(a.Outcome, b.Outcome) })
		side := int(math.Ceil(math.Sqrt(float64(len(within)))))
		for i := range within {
			out = append(out, MapBore{at.place(step, i%side, i/side, side), within[i].Outcome})
		}
	}
	slices.SortFunc(out, func(a, b MapBore) int {
		return cmp.Or(cmp.Compare(a.At.Lat, b.At.Lat), cmp.Compare(a.At.Lon, b.At.Lon))
	})
	return out
}

// Squares returns what tells the square of that grid in which a position lies. The last
// ones before the antimeridian and the poles are cut there.
//
//   - Units: degrees; sideM is the side of a square in metres, at least 1000.
//   - Cost: 10 ns a position, after 0.1 ms once.
//   - Checked by: TestSquaresTellNoMore.
func Squares(sideM float64) func(orb.Point) orb.Bound {
	step := sideM / metresPerDegree
	first := int(math.Floor(-90 / step))
	widths := make([]float64, int(math.Floor(90/step))-first+1)
	for i := range widths {
		widths[i] = wide(first+i, step)
	}
	return func(at orb.Point) orb.Bound {
		row := math.Floor(at[1] / step)
		width := widths[int(row)-first]
		west, south := math.Floor(at[0]/width)*width, row*step
		return orb.Bound{
			Min: orb.Point{max(west, -180), max(south, -90)},
			Max: orb.Point{min(west+width, 180), min(south+step, 90)},
		}
	}
}

func cellOf(p coord.LonLat, step float64) cell {
	row := int(math.Floor(p.Lat / step))
	return cell{row, int(math.Floor(p.Lon / wide(row, step)))}
}

// wide is the width in degrees of the squares of a row: as wide as they are high.
func wide(row int, step float64) float64 {
	middle := (float64(row) + 0.5) * step * math.Pi / 180
	return step / max(math.Cos(middle), 1e-3)
}

// place is the middle of one of side x side parts of the square.
func (c cell) place(step float64, x, y, side int) coord.LonLat {
	along := func(i int) float64 { return (float64(i) + 0.5) / float64(side) }
	return coord.LonLat{
		Lon: (float64(c.column) + along(x)) * wide(c.row, step),
		Lat: (float64(c.row) + along(y)) * step,
	}
}
