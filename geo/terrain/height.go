package terrain

import (
	"context"
	"math"
)

// AboveDrainage returns the height of each filled cell above the first cell of drainage
// that its water meets.
//
//   - Units: metres, never below 0; 0 on drainage.
//   - Domain: missing where water leaves the grid before it meets drainage.
//   - Errors: the context's when it ends.
//   - Cost: O(n); 4 bytes a cell.
//   - Source: Rennó et al., HAND, Remote Sensing of Environment 112 (2008); Nobre et al.,
//     J. Hydrology 404 (2011). Differs in measuring from filled ground, so that no hollow
//     lies below its outlet.
//   - Checked by: TestHeightReference.
func (f *Flow) AboveDrainage(ctx context.Context, d *Drainage, progress Progress) (*Grid, error) {
	base := make([]float32, len(f.z))
	for cell := range base {
		base[cell] = missing
		if d.has(cell) {
			base[cell] = f.z[cell]
		}
	}
	step := newSteps(ctx, progress, Measuring, f.Rows)
	var way []int
	for row := range f.Rows {
		if err := step.next(); err != nil {
			return nil, err
		}
		for cell := row * f.Cols; cell < (row+1)*f.Cols; cell++ {
			if f.to[cell] != nowhere {
				way = f.settle(cell, base, way[:0])
			}
		}
	}
	for cell, z := range f.z {
		base[cell] = z - base[cell]
		if math.IsInf(float64(base[cell]), 0) {
			base[cell] = missing
		}
	}
	return &Grid{f.Frame, base}, nil
}

// astray marks the base of cells whose water meets no drainage.
var astray = float32(math.Inf(-1))

// settle follows the water of a cell to a base that is known and gives it to the whole way.
func (f *Flow) settle(cell int, base []float32, way []int) []int {
	found := astray
	for {
		if known(base[cell]) {
			found = base[cell]
			break
		}
		way = append(way, cell)
		n, ok := f.next(cell)
		if !ok {
			break
		}
		cell = n
	}
	for _, c := range way {
		base[c] = found
	}
	return way
}
