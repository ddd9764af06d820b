package terrain

import (
	"context"
	"math"

	"waterstrike/geo"
)

// Flow is where water goes from each cell of a grid, over ground whose hollows are filled.
type Flow struct {
	Frame
	z   []float32 // of filled ground
	to  []direction
	sea float32 // cells at or below it are sea; -Inf where there is none
}

// Route fills the hollows of a grid and finds where each cell's water goes.
//
// Filled, a cell stands as high as the lowest way from it to where water leaves: the edge
// of the grid, a cell without a value, or the sea. Water goes to the neighbour of the
// steepest fall on the filled ground. Of equal falls the first counts, clockwise from
// east. Where no neighbour is lower, on flats and in filled hollows, it goes back along the way by which
// the flood came, the shortest from the outlets of that level. So no water runs in circles.
//
//   - Shapes: one cell each as the grid; missing cells stay missing.
//   - Units: metres; sea, where known, is the elevation at and below which a cell is
//     water that drains all else; its floor is raised to it.
//   - Domain: any grid. Nothing is added to an elevation: flats stay flat.
//   - Errors: the context's when it ends.
//   - Cost: O(n log n); 5 bytes a cell besides the grid, and 12 for each cell of the
//     flood's edge.
//   - Source: Barnes, Lehman and Mulla, Priority-Flood, Computers & Geosciences 62
//     (2014), algorithms 2 and 4; O'Callaghan and Mark, CVGIP 28 (1984).
//   - Checked by: TestFilledReference.
func Route(ctx context.Context, g *Grid, sea geo.Opt[float64], progress Progress) (*Flow, error) {
	f := &Flow{g.Frame, make([]float32, len(g.z)), make([]direction, len(g.z)), float32(sea.Or(math.Inf(-1)))}
	copy(f.z, g.z)
	if err := f.flood(ctx, progress); err != nil {
		return nil, err
	}
	if err := f.steepen(ctx, progress); err != nil {
		return nil, err
	}
	return f, nil
}

// flood raises the ground from its outlets inward and points each cell back along the way.
func (f *Flow) flood(ctx context.Context, progress Progress) error {
	edge := front{level: float32(math.Inf(-1))}
	done := f.shores(&edge)
	step := newSteps(ctx, progress, Filling, f.Rows)
	for {
		r, ok := edge.pop()
		if !ok {
			return step.to(f.Rows)
		}
		row, col := int(r.cell)/f.Cols, int(r.cell)%f.Cols
		for k := range 8 {
			if n, inside := f.neighbour(row, col, k); inside && f.to[n] == open {
				f.to[n], f.z[n] = across(k), max(f.z[n], r.z)
				edge.push(f.z[n], n)
			}
		}
		if done++; done%f.Cols == 0 {
			if err := step.to(min(done/f.Cols, f.Rows-1)); err != nil {
				return err
			}
		}
	}
}

// shores puts the cells where water leaves on the flood's edge and returns how many
// cells have no value.
func (f *Flow) shores(edge *front) (without int) {
	for i, z := range f.z {
		switch {
		case !known(z):
			f.to[i] = nowhere
			without++
		case z <= f.sea:
			f.z[i], f.to[i] = f.sea, leaves
		default:
			f.to[i] = open
		}
	}
	for row := range f.Rows {
		for col := range f.Cols {
			f.shore(row, col, edge)
		}
	}
	return without
}

// shore puts a cell on the flood's edge if water leaves there; of the sea only what
// touches land, or the edge would be as large as the sea.
func (f *Flow) shore(row, col int, edge *front) {
	i := row*f.Cols + col
	land, rim := f.around(row, col)
	switch {
	case f.to[i] == open && rim:
		f.to[i] = leaves
		edge.push(f.z[i], i)
	case f.to[i] == leaves && land:
		edge.push(f.z[i], i)
	}
}

// around reports whether a cell touches land that the flood has not reached, and whether
// it touches the edge or a cell without a value.
func (f *Flow) around(row, col int) (land, rim bool) {
	for k := range 8 {
		n, inside := f.neighbour(row, col, k)
		rim = rim || !inside || f.to[n] == nowhere
		land = land || inside && f.to[n] == open
	}
	return land, rim
}

// steepen points each cell that has a lower neighbour to the steepest fall.
func (f *Flow) steepen(ctx context.Context, progress Progress) error {
	step := newSteps(ctx, progress, Routing, f.Rows)
	for row := range f.Rows {
		if err := step.next(); err != nil {
			return err
		}
		away := f.distances(row)
		for col := range f.Cols {
			i := row*f.Cols + col
			if f.to[i] == nowhere || f.isSea(i) {
				continue
			}
			if k, falls := f.steepest(row, col, &away); falls {
				f.to[i] = direction(k)
			}
		}
	}
	return nil
}

// steepest returns the neighbour of the steepest fall; false where none is lower.
func (f *Flow) steepest(row, col int, away *[8]float64) (best int, falls bool) {
	z, most := f.z[row*f.Cols+col], 0.0
	for k := range 8 {
		n, inside := f.neighbour(row, col, k)
		if !inside || !(f.z[n] < z) {
			continue
		}
		if fall := (float64(z) - float64(f.z[n])) / away[k]; fall > most {
			best, most, falls = k, fall, true
		}
	}
	return best, falls
}

// distances returns how far the middles of the eight neighbours are, metres.
func (f *Frame) distances(row int) (away [8]float64) {
	w, h := f.CellM(row)
	for k := range away {
		away[k] = math.Hypot(w*float64(eastward[k]), h*float64(southward[k]))
	}
	return away
}

// next returns the cell that water of a cell goes to; false where it leaves the grid.
func (f *Flow) next(cell int) (int, bool) {
	k := f.to[cell]
	if k >= leaves {
		return 0, false
	}
	return cell + southward[k]*f.Cols + eastward[k], true
}

// Next returns the row and column that water of a cell goes to; false where it leaves
// the grid and where the cell has no value.
func (f *Flow) Next(row, col int) (toRow, toCol int, ok bool) {
	n, ok := f.next(row*f.Cols + col)
	if !ok {
		return 0, 0, false
	}
	return n / f.Cols, n % f.Cols, true
}

// Filled returns the elevation of a cell once hollows are filled, metres; false where
// the cell has no value or is outside.
func (f *Flow) Filled(row, col int) (float64, bool) {
	g := Grid{f.Frame, f.z}
	return g.At(row, col)
}
