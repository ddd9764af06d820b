package terrain

import (
	"context"
	"math"
)

// Distance returns how far the middle of each cell is from the middle of the nearest cell
// of drainage, as the crow flies.
//
//   - Units: metres; 0 on drainage. In a grid in degrees, widths are those of the row of
//     the cell that asks.
//   - Domain: missing everywhere where there is no drainage. Cells without an elevation
//     have a distance too.
//   - Errors: the context's when it ends.
//   - Cost: O(n); 4 bytes a cell.
//   - Source: Felzenszwalb and Huttenlocher, Distance transforms of sampled functions,
//     Theory of Computing 8 (2012): columns first, then the lower envelope of parabolas
//     along each row; exact on square and oblong cells.
//   - Checked by: TestDistanceReference.
func (d *Drainage) Distance(ctx context.Context, progress Progress) (*Grid, error) {
	step := newSteps(ctx, progress, Measuring, 2*d.Rows)
	g := &Grid{d.Frame, make([]float32, d.Rows*d.Cols)}
	if err := d.alongColumns(g.z, step); err != nil {
		return nil, err
	}
	line := newEnvelope(d.Cols)
	for row := range d.Rows {
		if err := step.next(); err != nil {
			return nil, err
		}
		w, _ := d.CellM(row)
		line.transform(g.z[row*d.Cols:(row+1)*d.Cols], w)
	}
	return g, nil
}

// alongColumns fills in the distance within each cell's own column, +Inf where it has no
// drainage: once going south, once coming back.
func (d *Drainage) alongColumns(z []float32, step *steps) error {
	far := float32(math.Inf(1))
	for cell := range z {
		if !d.has(cell) {
			z[cell] = far
		}
	}
	for row := 1; row < d.Rows; row++ {
		d.carry(z, row-1, row)
	}
	for row := d.Rows - 2; row >= 0; row-- {
		if err := step.next(); err != nil {
			return err
		}
		d.carry(z, row+1, row)
	}
	return step.to(d.Rows)
}

// carry takes the distances of one row on to the next.
func (d *Drainage) carry(z []float32, from, to int) {
	_, a := d.CellM(from)
	_, b := d.CellM(to)
	h := float32((a + b) / 2)
	for col := range d.Cols {
		i := to*d.Cols + col
		z[i] = min(z[i], z[from*d.Cols+col]+h)
	}
}

// envelope is the room to transform one row: the parabolas of the lower envelope, by the
// column of each foot, and where each begins to be the lowest.
type envelope struct {
	height []float64 // squared, of the parabola at each column
	foot   []int
	begins []float64
}

func newEnvelope(cols int) *envelope {
	return &envelope{make([]float64, cols), make([]int, cols), make([]float64, cols)}
}

// transform turns the distances within columns of one row into distances to any column,
// with cells w metres wide; the whole row becomes missing where no column has one.
func (e *envelope) transform(row []float32, w float64) {
	n := e.build(row, w)
	k := 0
	for col := range row {
		if n == 0 {
			row[col] = missing
			continue
		}
		for k+1 < n && e.begins[k+1] <= float64(col) {
			k++
		}
		across := w * float64(col-e.foot[k])
		row[col] = float32(math.Sqrt(across*across + e.height[e.foot[k]]))
	}
}

// build finds the parabolas of the lower envelope and returns how many there are.
func (e *envelope) build(row []float32, w float64) (n int) {
	for col, z := range row {
		h := float64(z)
		e.height[col] = h * h
		if math.IsInf(h, 1) {
			continue
		}
		begin := math.Inf(-1)
		for n > 0 {
			begin = e.meet(e.foot[n-1], col, w)
			if begin > e.begins[n-1] {
				break
			}
			n, begin = n-1, math.Inf(-1)
		}
		e.foot[n], e.begins[n] = col, begin
		n++
	}
	return n
}

// meet is the column, as a fraction, from which the parabola at b is lower than that at a.
func (e *envelope) meet(a, b int, w float64) float64 {
	return (float64(a)+float64(b))/2 + (e.height[b]-e.height[a])/(2*w*w*float64(b-a))
}
