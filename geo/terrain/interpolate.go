package terrain

import (
	"math"

	"waterstrike/geo/coord"
)

// cells are values by row and column, in memory or in a file.
type cells interface {
	At(row, col int) (float64, bool)
}

// between4 interpolates bilinearly between the middles of the four cells around a
// fractional row and column. The nearest cell must be known; others that are missing,
// or outside, leave their weight to those that are known.
func between4(c cells, row, col float64) (float64, bool) {
	if _, ok := c.At(int(math.Floor(row+0.5)), int(math.Floor(col+0.5))); !ok {
		return 0, false
	}
	r0, c0 := math.Floor(row), math.Floor(col)
	var sum, weight float64
	for i := range 4 {
		r, k := r0+float64(i/2), c0+float64(i%2)
		w := (1 - math.Abs(row-r)) * (1 - math.Abs(col-k))
		if w <= 0 {
			continue
		}
		if z, ok := c.At(int(r), int(k)); ok {
			sum, weight = sum+w*z, weight+w
		}
	}
	return sum / weight, true
}

// valueAt interpolates at a position.
func valueAt(f Frame, c cells, p coord.LonLat) (float64, bool) {
	row, col, ok := f.Cell(p)
	if !ok {
		return 0, false
	}
	// The last edge belongs to the last cell.
	row, col = min(row, float64(f.Rows)-0.5-1e-9), min(col, float64(f.Cols)-0.5-1e-9)
	return between4(c, row, col)
}

// Value returns the value at a position, interpolated bilinearly between the middles of
// cells; false outside the grid and where the cell of the position lacks a value.
//
//   - Units: as the cells.
//   - Domain: a cell beside one that is missing, or at the edge, is interpolated between
//     those that are known.
func (g *Grid) Value(p coord.LonLat) (float64, bool) { return valueAt(g.Frame, g, p) }
