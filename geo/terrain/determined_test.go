package terrain_test

import (
	"math"

	"waterstrike/geo/terrain"
)

// neighbours calls with the row, column and distance in cells of each neighbour of a cell.
func neighbours(f terrain.Frame, row, col int, call func(r, c int, away float64)) {
	for dr := -1; dr <= 1; dr++ {
		for dc := -1; dc <= 1; dc++ {
			r, c := row+dr, col+dc
			if (dr != 0 || dc != 0) && r >= 0 && c >= 0 && r < f.Rows && c < f.Cols {
				call(r, c, math.Hypot(float64(dr), float64(dc)))
			}
		}
	}
}

// determined tells the cells whose accumulation any program must agree on: the published
// method leaves open where water goes at the edge of the grid, on flats and in filled
// hollows, and between equal falls. Every cell that water from such a place may reach, by
// whichever choice, is left out.
func determined(f *terrain.Flow, g *terrain.Grid) func(row, col int) bool {
	free := make([]bool, f.Rows*f.Cols)
	var spread func(row, col int)
	spread = func(row, col int) {
		if free[row*f.Cols+col] {
			return
		}
		free[row*f.Cols+col] = true
		if r, c, ok := f.Next(row, col); ok {
			spread(r, c)
		}
	}
	for row := range f.Rows {
		for col := range f.Cols {
			if !openChoice(f, g, row, col) {
				continue
			}
			spread(row, col)
			z, _ := f.Filled(row, col)
			neighbours(f.Frame, row, col, func(r, c int, _ float64) {
				if n, _ := f.Filled(r, c); n <= z {
					spread(r, c)
				}
			})
		}
	}
	return func(row, col int) bool { return !free[row*f.Cols+col] }
}

// openChoice reports whether the method leaves open where water of a cell goes.
func openChoice(f *terrain.Flow, g *terrain.Grid, row, col int) bool {
	z, _ := f.Filled(row, col)
	before, _ := g.At(row, col)
	edge := row == 0 || col == 0 || row == f.Rows-1 || col == f.Cols-1
	best, second := 0.0, 0.0
	neighbours(f.Frame, row, col, func(r, c int, away float64) {
		n, _ := f.Filled(r, c)
		if fall := (z - n) / away; fall > best {
			best, second = fall, best
		} else {
			second = max(second, fall)
		}
	})
	return edge || z > before || best == 0 || best-second < 1e-6*best
}
