package terrain

import (
	"context"
	"math"
)

// Slope returns the slope of the ground at a cell.
//
//   - Units: metres of rise for a metre on the map; [SlopeDeg] turns it into degrees.
//   - Domain: at the edge and beside a cell without a value, the missing neighbour is
//     extrapolated from the one across; where both are missing, both take the elevation
//     of the cell itself. False where the cell has no value.
//   - Source: Horn, Hill shading and the reflectance map, Proc. IEEE 69 (1981): the eight
//     neighbours weighted 1, 2, 1; with the cell's true size at its latitude.
//   - Checked by: TestSlopeReference.
func (g *Grid) Slope(row, col int) (float64, bool) {
	w, h := g.CellM(row)
	return slopes{g, w, h}.At(row, col)
}

// slopes are the slopes between cells of elevations w metres wide and h high.
type slopes struct {
	ground cells
	w, h   float64
}

// At returns the slope of a cell.
func (s slopes) At(row, col int) (float64, bool) {
	z, ok := s.ground.At(row, col)
	if !ok {
		return 0, false
	}
	var east, south float64
	for k := range 8 {
		d := weights[k] * (s.beside(row, col, k, z) - z)
		east += d * float64(eastward[k])
		south += d * float64(southward[k])
	}
	return math.Hypot(east/(8*s.w), south/(8*s.h)), true
}

// beside returns the elevation of a neighbour, extrapolated where it is missing.
func (s slopes) beside(row, col, k int, z float64) float64 {
	if n, ok := s.ground.At(row+southward[k], col+eastward[k]); ok {
		return n
	}
	if far, ok := s.ground.At(row-southward[k], col-eastward[k]); ok {
		return 2*z - far
	}
	return z
}

// weights of the eight neighbours in order: straight ones count twice.
var weights = [8]float64{2, 1, 2, 1, 2, 1, 2, 1}

// SlopeDeg returns the angle of a slope.
//
//   - Units: m/m in, degrees out.
func SlopeDeg(slope float64) float64 { return math.Atan(slope) * 180 / math.Pi }

// Slopes returns the slope of every cell, m/m; see [Grid.Slope].
func Slopes(ctx context.Context, g *Grid, progress Progress) (*Grid, error) {
	out := &Grid{g.Frame, make([]float32, len(g.z))}
	step := newSteps(ctx, progress, Measuring, g.Rows)
	for row := range g.Rows {
		if err := step.next(); err != nil {
			return nil, err
		}
		w, h := g.CellM(row)
		of := slopes{g, w, h}
		for col := range g.Cols {
			i := row*g.Cols + col
			out.z[i] = missing
			if v, ok := of.At(row, col); ok {
				out.z[i] = float32(v)
			}
		}
	}
	return out, nil
}
