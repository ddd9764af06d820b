package terrain

import "context"

// Upstream is how many cells drain through each cell, itself included.
type Upstream struct {
	Frame
	cells []uint32
}

// At returns the number of cells that drain through a cell; 0 where it has no value.
func (u *Upstream) At(row, col int) int { return int(u.cells[row*u.Cols+col]) }

// Accumulate counts the cells that drain through each cell.
//
//   - Units: cells, itself included.
//   - Errors: the context's when it ends.
//   - Cost: O(n); 5 bytes a cell, of which 4 stay.
//   - Source: O'Callaghan and Mark (1984), with each cell taken after all that drain to
//     it (a topological order), so that each is visited once.
//   - Checked by: TestAccumulationReference.
func (f *Flow) Accumulate(ctx context.Context, progress Progress) (*Upstream, error) {
	u := &Upstream{f.Frame, make([]uint32, len(f.to))}
	waiting := f.inflows()
	step := newSteps(ctx, progress, Accumulating, f.Rows)
	for row := range f.Rows {
		if err := step.next(); err != nil {
			return nil, err
		}
		for cell := row * f.Cols; cell < (row+1)*f.Cols; cell++ {
			// A source: nothing has come to it and nothing will.
			if u.cells[cell] == 0 && waiting[cell] == 0 && f.to[cell] != nowhere {
				f.runDown(cell, u.cells, waiting)
			}
		}
	}
	return u, nil
}

// inflows counts the neighbours that each cell receives water from.
func (f *Flow) inflows() []uint8 {
	in := make([]uint8, len(f.to))
	for cell := range f.to {
		if n, ok := f.next(cell); ok {
			in[n]++
		}
	}
	return in
}

// runDown passes counts on downstream until a cell that still waits for another inflow.
func (f *Flow) runDown(cell int, cells []uint32, waiting []uint8) {
	for {
		cells[cell]++
		n, ok := f.next(cell)
		if !ok {
			return
		}
		cells[n] += cells[cell]
		if waiting[n]--; waiting[n] > 0 {
			return
		}
		cell = n
	}
}
