package terrain_test

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/terrain"
)

// reference reads a grid of testdata/reference/terrain; the README beside it says by which
// program and how each was made.
func reference(t testing.TB, name string) *terrain.Grid {
	t.Helper()
	f, err := terrain.Open(filepath.Join("..", "..", "testdata", "reference", "terrain", name+".asc"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	g, err := f.Grid(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// lands are the grids of the reference, with the cells that its channels begin at.
var lands = map[string]int{"volcano": 50, "rough": 50, "demo": 100}

// square is a grid with the same values on square cells in metres: SAGA takes degrees for
// a plane.
func square(t testing.TB, g *terrain.Grid) *terrain.Grid {
	t.Helper()
	size := 10.0
	if !g.System.Metric {
		size = 100
	}
	out := blank(t, g.Rows, g.Cols, size)
	each(g.Frame, func(r, c int) {
		if z, ok := g.At(r, c); ok {
			out.Set(r, c, z)
		}
	})
	return out
}

func blank(t testing.TB, rows, cols int, size float64) *terrain.Grid {
	t.Helper()
	g, err := terrain.NewGrid(terrain.Frame{System: terrain.PlaneMetres, Rows: rows, Cols: cols, CellX: size, CellY: size})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func each(f terrain.Frame, call func(r, c int)) {
	for r := range f.Rows {
		for c := range f.Cols {
			call(r, c)
		}
	}
}

func at(t testing.TB, g *terrain.Grid, r, c int) float64 {
	t.Helper()
	z, ok := g.At(r, c)
	if !ok {
		t.Fatalf("row %d column %d is missing", r, c)
	}
	return z
}

func route(t testing.TB, g *terrain.Grid, sea geo.Opt[float64]) *terrain.Flow {
	t.Helper()
	f, err := terrain.Route(context.Background(), g, sea, nil)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func accumulate(t testing.TB, f *terrain.Flow) *terrain.Upstream {
	t.Helper()
	u, err := f.Accumulate(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

var noSea geo.Opt[float64]

// SAGA 8.5.0, Wang and Liu's filling with no least slope; there is one answer.
func TestFilledReference(t *testing.T) {
	const tol = 1e-4 // the last digit of the reference
	for name := range lands {
		g, want := reference(t, name), reference(t, name+"_filled")
		f, raised := route(t, g, noSea), 0
		each(g.Frame, func(r, c int) {
			z, _ := f.Filled(r, c)
			if math.Abs(z-at(t, want, r, c)) > tol {
				t.Errorf("%s row %d column %d: %v, want %v", name, r, c, z, at(t, want, r, c))
			}
			if z > at(t, g, r, c) {
				raised++
			}
		})
		t.Logf("%s: %d cells raised", name, raised)
		if raised == 0 {
			t.Errorf("%s has no hollow: it proves nothing", name)
		}
	}
}

// SAGA 8.5.0, D8, wherever the method leaves no choice.
func TestAccumulationReference(t *testing.T) {
	for name := range lands {
		g, want := square(t, reference(t, name)), reference(t, name+"_cells_saga")
		f := route(t, g, noSea)
		u, sure := accumulate(t, f), determined(f, g)
		compared := 0
		each(g.Frame, func(r, c int) {
			if sure(r, c) {
				compared++
				if n := u.At(r, c); float64(n) != at(t, want, r, c) {
					t.Errorf("%s row %d column %d: %d cells, want %v", name, r, c, n, at(t, want, r, c))
				}
			}
		})
		t.Logf("%s: %d of %d cells compared", name, compared, g.Rows*g.Cols)
		if compared < g.Rows*g.Cols/3 {
			t.Errorf("%s: only %d cells are determined", name, compared)
		}
	}
}

// GDAL 3.6.2 and GRASS 8.2.1 by Horn's formula, GRASS with geodesic cells in degrees.
// Edges are extrapolated otherwise by each program.
func TestSlopeReference(t *testing.T) {
	for _, c := range []struct {
		name string
		tol  float64
	}{
		{"volcano_slope_gdal", 1e-7}, // values of 32 bits, 6 digits of per cent
		{"rough_slope_gdal", 2e-6},   // GDAL works in 32 bits where elevations are fractions
		{"volcano_slope_grass", 1e-7},
		{"rough_slope_grass", 1e-7},
		{"demo_slope_grass", 1e-8},
	} {
		land := c.name[:len(c.name)-len("_slope_gdal")]
		if land[len(land)-1] == '_' {
			land = land[:len(land)-1]
		}
		got, err := terrain.Slopes(context.Background(), reference(t, land), nil)
		if err != nil {
			t.Fatal(err)
		}
		want, worst := reference(t, c.name), 0.0
		each(got.Frame, func(row, col int) {
			if row > 0 && col > 0 && row < got.Rows-1 && col < got.Cols-1 {
				worst = max(worst, math.Abs(at(t, got, row, col)-at(t, want, row, col)/100))
			}
		})
		t.Logf("%s: worst %.2g m/m", c.name, worst)
		if worst > c.tol {
			t.Errorf("%s: off by %v", c.name, worst)
		}
	}
}

// channels are the cells that the reference takes for channels.
func channels(t testing.TB, name string, f terrain.Frame) *terrain.Drainage {
	t.Helper()
	cells := reference(t, name+"_cells_saga")
	d, err := terrain.DrainageOf(f, func(r, c int) bool { return at(t, cells, r, c) >= float64(lands[name]) })
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// GRASS 8.2.1 r.grow.distance: along the plane for metres, geodesic for degrees. It hands
// each cell's nearest channel on to its neighbours, which now and then misses the nearest
// one and is then too far: ours, held to brute force by TestDistanceBruteForce, must never
// be farther and must agree in nearly all cells.
func TestDistanceReference(t *testing.T) {
	for name, tol := range map[string]float64{
		"volcano": 6e-4, "rough": 6e-4, // the last digit of the reference, 32-bit values
		"demo": 0.02, // GRASS grows distances from cell to cell on the sphere's widths
	} {
		want := reference(t, name+"_distance_grass")
		got, err := channels(t, name, want.Frame).Distance(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		cells, apart := 0, 0
		each(want.Frame, func(r, c int) {
			ours, theirs := at(t, got, r, c), at(t, want, r, c)
			cells++
			if math.Abs(ours-theirs) > tol {
				apart++
			}
			if ours > theirs+tol {
				t.Fatalf("%s: %v m at %d,%d, GRASS has %v", name, ours, r, c, theirs)
			}
		})
		t.Logf("%s: %d of %d cells apart", name, apart, cells)
		if apart > cells/20 {
			t.Errorf("%s: %d of %d cells apart", name, apart, cells)
		}
	}
}

// SAGA 8.5.0, vertical overland flow distance by D8 to the same channels, for cells whose
// way to a channel leaves no choice.
func TestHeightReference(t *testing.T) {
	const tol = 1e-4 // the last digit of the reference
	for name := range lands {
		g, want := square(t, reference(t, name)), reference(t, name+"_hand_saga")
		f, d := route(t, g, noSea), channels(t, name, g.Frame)
		got, err := f.AboveDrainage(context.Background(), d, nil)
		if err != nil {
			t.Fatal(err)
		}
		compared, worst := 0, 0.0
		each(g.Frame, func(r, c int) {
			if !d.At(r, c) && sureWay(f, g, d, r, c) {
				compared++
				worst = max(worst, math.Abs(at(t, got, r, c)-at(t, want, r, c)))
			}
		})
		t.Logf("%s: %d of %d cells compared, worst %.2g m", name, compared, g.Rows*g.Cols, worst)
		if worst > tol || compared < g.Rows*g.Cols/4 {
			t.Errorf("%s: %d cells compared, off by %v m", name, compared, worst)
		}
	}
}

// sureWay reports whether water of a cell meets drainage without any choice on its way.
func sureWay(f *terrain.Flow, g *terrain.Grid, d *terrain.Drainage, row, col int) bool {
	for !d.At(row, col) {
		if openChoice(f, g, row, col) {
			return false
		}
		var ok bool
		if row, col, ok = f.Next(row, col); !ok {
			return false
		}
	}
	return true
}
