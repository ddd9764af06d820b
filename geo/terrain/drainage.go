package terrain

import (
	"context"
	"math"
)

// DefaultDrainageM2 is the contributing area from which a cell counts as drainage, 1 km².
// Common practice, no source: published values for heights above drainage run from some
// 0.1 km² in wet hills to several km² in dry plains.
const DefaultDrainageM2 = 1e6

// Drainage is the set of cells that count as streams, lakes or sea.
type Drainage struct {
	Frame
	bits []uint64
}

// At reports whether a cell is drainage.
func (d *Drainage) At(row, col int) bool { return d.has(row*d.Cols + col) }

func (d *Drainage) has(cell int) bool { return d.bits[cell/64]>>(cell%64)&1 == 1 }

func (d *Drainage) add(cell int) { d.bits[cell/64] |= 1 << (cell % 64) }

// Drainage returns the cells through which at least an area drains, and the sea. Whatever
// flows from a cell of drainage is drainage until it leaves the grid.
//
//   - Units: square metres; the area is counted in cells of the middle row.
//   - Domain: any area; 0 and less make every cell drainage.
//   - Checked by: TestFlowLaws, TestDrainageSea.
func (f *Flow) Drainage(u *Upstream, areaM2 float64) *Drainage {
	d := &Drainage{f.Frame, make([]uint64, (len(f.to)+63)/64)}
	w, h := f.CellM(f.Rows / 2)
	least := math.Ceil(areaM2 / (w * h) * (1 - 1e-12)) // a whole number of cells stays one
	for cell, n := range u.cells {
		if n > 0 && (float64(n) >= least || f.isSea(cell)) {
			d.add(cell)
		}
	}
	return d
}

// isSea reports whether a cell is sea.
func (f *Flow) isSea(cell int) bool { return f.z[cell] <= f.sea }

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
//   - Checked by: TestHeightReference, TestHeightBruteForce, TestFlowLaws.
func (f *Flow) AboveDrainage(ctx context.Context, d *Drainage, progress Progress) (*Grid, error) {
	base := make([]float32, len(f.z))
	for cell := range base {
		base[cell] = missing
		if d.has(cell) {
			base[cell] = f.z[cell]
		}
	}
	step := newSteps(ctx, progress, Measuring, 2*f.Rows)
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
