package terrain

import (
	"context"
	"fmt"
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Grid is one value for each cell of a frame, in metres unless said otherwise; cells may
// lack one. Values are kept to 32 bits: half a millimetre at the highest summit. A Grid
// that nobody sets any more may be read by any number of goroutines.
type Grid struct {
	Frame
	z []float32 // by rows; NaN where missing, which no method lets out
}

// NewGrid returns a grid that lacks every value. Errors: [geo.Invalid] for a frame that
// is wrong or holds more than [MaxCells].
func NewGrid(f Frame) (*Grid, error) {
	if err := f.small("terrain.NewGrid"); err != nil {
		return nil, err
	}
	g := &Grid{f, make([]float32, f.Rows*f.Cols)}
	for i := range g.z {
		g.z[i] = missing
	}
	return g, nil
}

var missing = float32(math.NaN())

func known(z float32) bool { return z == z }

// At returns the value of a cell; false where it is missing or the cell is outside.
func (g *Grid) At(row, col int) (float64, bool) {
	if row < 0 || col < 0 || row >= g.Rows || col >= g.Cols {
		return 0, false
	}
	z := g.z[row*g.Cols+col]
	if !known(z) {
		return 0, false
	}
	return float64(z), true
}

// Set gives a cell of the grid a value; one that is not finite makes it missing.
func (g *Grid) Set(row, col int, value float64) {
	z := float32(value)
	if math.IsInf(float64(z), 0) {
		z = missing
	}
	g.z[row*g.Cols+col] = z
}

// Sample returns the grid whose cells hold what value says at their middles; false
// leaves a cell missing. progress, which may be nil, is told of each row.
//
//   - Errors: [geo.Invalid] for a frame that is wrong, too large or has no place on
//     earth; the context's when it ends.
func Sample(ctx context.Context, f Frame, value func(coord.LonLat) (float64, bool), progress Progress) (*Grid, error) {
	g, err := NewGrid(f)
	if err == nil && !f.System.Placed() {
		err = geo.Fail(geo.Invalid, "terrain.Sample", geo.Message{}, fmt.Errorf("the frame has no place on earth; give degrees or a UTM grid"))
	}
	if err != nil {
		return nil, err
	}
	step := newSteps(ctx, progress, Reading, f.Rows)
	for row := range f.Rows {
		if err := step.next(); err != nil {
			return nil, err
		}
		for col := range f.Cols {
			if p, on := f.Middle(row, col); on {
				if z, ok := value(p); ok {
					g.Set(row, col, z)
				}
			}
		}
	}
	return g, nil
}
