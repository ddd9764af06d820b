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
//   - Checked by: TestSlopeReference, TestSlopePlane.
func (g *Grid) Slope(row, col int) (float64, bool) {
	z, ok := g.At(row, col)
	if !ok {
		return 0, false
	}
	w, h := g.CellM(row)
	return g.horn(row, col, z, w, h), true
}

// SlopeDeg returns the angle of a slope.
//
//   - Units: m/m in, degrees out.
//   - Checked by: TestSlopePlane.
func SlopeDeg(slope float64) float64 { return math.Atan(slope) * 180 / math.Pi }

// weights of the eight neighbours in order: straight ones count twice.
var weights = [8]float64{2, 1, 2, 1, 2, 1, 2, 1}

func (g *Grid) horn(row, col int, z, w, h float64) float64 {
	var east, south float64
	for k := range 8 {
		d := weights[k] * (g.beside(row, col, k, z) - z)
		east += d * float64(eastward[k])
		south += d * float64(southward[k])
	}
	return math.Hypot(east/(8*w), south/(8*h))
}

// beside returns the elevation of a neighbour, extrapolated where it is missing.
func (g *Grid) beside(row, col, k int, z float64) float64 {
	if n, ok := g.At(row+southward[k], col+eastward[k]); ok {
		return n
	}
	if far, ok := g.At(row-southward[k], col-eastward[k]); ok {
		return 2*z - far
	}
	return z
}

// Slopes returns the slope of every cell, m/m; see [Grid.Slope].
func Slopes(ctx context.Context, g *Grid, progress Progress) (*Grid, error) {
	out := &Grid{g.Frame, make([]float32, len(g.z))}
	step := newSteps(ctx, progress, Measuring, g.Rows)
	for row := range g.Rows {
		if err := step.next(); err != nil {
			return nil, err
		}
		w, h := g.CellM(row)
		for col := range g.Cols {
			i := row*g.Cols + col
			out.z[i] = missing
			if z := g.z[i]; known(z) {
				out.z[i] = float32(g.horn(row, col, float64(z), w, h))
			}
		}
	}
	return out, nil
}
