package terrain

import "math"

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

// DrainageOf returns the cells that has names, such as those of mapped rivers where they
// are better known than elevations tell. Errors: [geo.Invalid] for a frame that is wrong
// or too large.
func DrainageOf(f Frame, has func(row, col int) bool) (*Drainage, error) {
	if err := f.small("terrain.DrainageOf"); err != nil {
		return nil, err
	}
	d := &Drainage{f, make([]uint64, (f.Rows*f.Cols+63)/64)}
	for row := range f.Rows {
		for col := range f.Cols {
			if has(row, col) {
				d.add(row*f.Cols + col)
			}
		}
	}
	return d, nil
}

// isSea reports whether a cell is sea.
func (f *Flow) isSea(cell int) bool { return f.z[cell] <= f.sea }
