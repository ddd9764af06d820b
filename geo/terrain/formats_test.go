package terrain_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/outside"
	"waterstrike/geo/terrain"
)

// fixture is what testdata/make.sh puts into every fixture.
func fixture(row, col int) (float64, bool) {
	return float64((7*row + 3*col + row*col) % 250), (row != 2 || col != 3) && (row != 10 || col != 20)
}

// holds compares a file with the fixture, cell by cell and read whole.
func holds(t *testing.T, f *terrain.File) {
	t.Helper()
	if f.Rows != 17 || f.Cols != 23 {
		t.Fatalf("%d by %d", f.Rows, f.Cols)
	}
	g, err := f.Grid(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for r := range f.Rows {
		for c := range f.Cols {
			want, there := fixture(r, c)
			got, ok := f.At(r, c)
			whole, okWhole := g.At(r, c)
			if ok != there || okWhole != there || there && (got != want || whole != want) {
				t.Fatalf("row %d column %d: %v %v, whole %v %v; want %v %v", r, c, got, ok, whole, okWhole, want, there)
			}
		}
	}
	if err := f.Err(); err != nil {
		t.Fatal(err)
	}
}

// The fixtures were written by GDAL 3.6.2 (testdata/make.sh).
func TestTIFFVariants(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "tiff", "*.tif"))
	if err != nil || len(paths) < 25 {
		t.Fatalf("%d fixtures, %v", len(paths), err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			f, err := terrain.Open(path)
			if strings.Contains(path, "refused") {
				var e *terrain.UnsupportedError
				if !errors.As(err, &e) || geo.KindOf(err) != geo.Invalid || e.File != filepath.Base(path) {
					t.Fatalf("%v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			holds(t, f)
			near(t, f)
		})
	}
}

// near checks where the north-west cell lies: gdalinfo says the corner is 0.1 E, 0.217 N,
// in utm.tif 500000, 22117 on zone 31 north.
func near(t *testing.T, f *terrain.File) {
	t.Helper()
	want := coord.LonLat{Lon: 0.1005, Lat: 0.2165}
	if f.Name() == "utm.tif" {
		q := coord.Projected{CRS: coord.Projection{Zone: 31}, EastingM: 500005, NorthingM: 22112}
		want, _, _ = q.LonLat()
	}
	got, ok := f.Middle(0, 0)
	if !ok || math.Hypot(got.Lon-want.Lon, got.Lat-want.Lat) > 1e-9 { // a tenth of a millimetre
		t.Errorf("north-west cell at %v %v, want %v", got, ok, want)
	}
}

// text is a file of text.
func text(t *testing.T, name, body string) (*terrain.File, error) {
	t.Helper()
	return terrain.NewFile(name, strings.NewReader(body), int64(len(body)))
}

const smallASC = "NCOLS 3\nNROWS 2\nXLLCENTER 0.5\nYLLCENTER 1.5\nDX 1\nDY 0.5\nNODATA_VALUE -1\n1 2,5 -1\n4\n5 nan\n"

func TestFormats(t *testing.T) {
	for _, c := range []struct{ name, file, body string }{
		{"ascii by centres, oblong, decimal comma, wrapped rows", "a.asc", smallASC},
		{"points with a header", "a.csv", "name;lat;lon;elev\na;1.5;0.5;4\nb;1.5;1.5;5\nc;2;0.5;1\nd;2;1.5;2.5\ne;2;2.5;\nf;1.5;2.5;\n"},
		{"points without one, in any order", "a.xyz", "1.5 2 2.5\n0.5 1.5 4\n1.5 1.5 5\n0.5 2 1\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := text(t, c.file, c.body)
			if err != nil {
				t.Fatal(err)
			}
			if f.CellX != 1 || f.CellY != 0.5 || f.West != 0 || f.North != 2.25 || f.System != (terrain.System{}) {
				t.Errorf("%+v", f.Frame)
			}
			for i, want := range []float64{1, 2.5, 4, 5} {
				if got, ok := f.At(i/2, i%2); !ok || got != want {
					t.Errorf("cell %d: %v %v, want %v", i, got, ok, want)
				}
			}
			for row := range 2 {
				if got, ok := f.At(row, 2); ok {
					t.Errorf("row %d, missing cell: %v", row, got)
				}
			}
		})
	}
}

func TestASCIIFromGDAL(t *testing.T) {
	f, err := terrain.Open(filepath.Join("testdata", "plain.asc"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	holds(t, f)
}

// A tile of points on its edges: USGS, SRTM Topography, section 3. The first value is the
// north-west one, bytes run from high to low, -32768 is a void.
func TestHGT(t *testing.T) {
	const n = 1201
	raw := make([]byte, 2*n*n)
	put := func(row, col int, v int16) { binary.BigEndian.PutUint16(raw[2*(row*n+col):], uint16(v)) }
	put(0, 0, 321)
	put(n-1, n-1, -5)
	put(700, 3, -32768)
	f, err := terrain.NewFile("S01W006.hgt", bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	if z, ok := f.Value(coord.LonLat{Lon: -6, Lat: 0}); !ok || math.Abs(z-321) > 1e-6 {
		t.Errorf("north-west %v %v", z, ok)
	}
	if z, ok := f.Value(coord.LonLat{Lon: -5, Lat: -1}); !ok || math.Abs(z+5) > 1e-6 {
		t.Errorf("south-east %v %v", z, ok)
	}
	if z, ok := f.At(700, 3); ok {
		t.Errorf("void %v", z)
	}
	if z, ok := f.At(700, 4); !ok || z != 0 {
		t.Errorf("zero is an elevation: %v %v", z, ok)
	}
}

func TestDefects(t *testing.T) {
	cases := []struct{ name, file, body, want string }{
		{"no ending", "a", "", "the ending is not known"},
		{"empty", "a.asc", "", "ends within its head"},
		{"no corner", "a.asc", "ncols 1\nnrows 1\ncellsize 1\n5\n", "lacks a corner"},
		{"fraction of a row", "a.asc", "ncols 1\nnrows 1.5\nxllcorner 0\nyllcorner 0\ncellsize 1\n5\n", "whole numbers"},
		{"huge promise", "a.asc", "ncols 10000\nnrows 10000\nxllcorner 0\nyllcorner 0\ncellsize 0.001\n5\n", "too short"},
		{"no cell size", "a.asc", "ncols 1\nnrows 1\nxllcorner 0\nyllcorner 0\ncellsize 0\n5\n", "positive sizes"},
		{"off the globe", "a.hgt", "", "south-west corner"},
		{"short tile", "N00E006.hgt", "abc", "3 bytes"},
		{"no tiff", "a.tif", "II*", "too few"},
		{"other file", "a.tif", "PK\x03\x04567890", "neither II nor MM"},
		{"directory beyond", "a.tif", "II*\x00\xff\xff\x00\x00", "beyond the end"},
		{"scattered points", "a.csv", "0,0,1\n1,1,1\n1,0,2\n0,2.4,3\n0,1,3\n0,7.77,1\n", "regular grid"},
		{"twice", "a.csv", "0,0,1\n1,1,1\n1,0,2\n0,1,3\n0,1,4\n", "two elevations"},
		{"words", "a.csv", "0,0,1\n1,x,1\n", "line 2: \"x\" is no number"},
		{"few", "a.csv", "0,0,1\n", "make no grid"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := text(t, c.file, c.body)
			if err == nil || !strings.Contains(err.Error(), c.want) || geo.KindOf(err) != geo.Invalid {
				t.Errorf("%v, want %q", err, c.want)
			}
		})
	}
}

// What is wrong behind the head is found when the values are asked for.
func TestDefectsBehindTheHead(t *testing.T) {
	for _, c := range []struct{ name, body, want string }{
		{"too few", "ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n5 6 7      ", "3 of 4 values"},
		{"a word", "ncols 2\nnrows 1\nxllcorner 0\nyllcorner 0\ncellsize 1\n5\nsix\n", "line 7: \"six\" is no number"},
	} {
		f, err := text(t, "a.asc", c.body)
		if err != nil {
			t.Fatal(err)
		}
		if z, ok := f.At(0, 0); ok {
			t.Errorf("%s: %v", c.name, z)
		}
		if err := f.Err(); err == nil || !strings.Contains(err.Error(), c.want) || geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
		if _, err := f.Grid(context.Background(), nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// A .prj file beside a grid says which UTM grid its metres are of; Esri's spelling.
func TestASCIIWithProjection(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "a.asc"), "ncols 2\nnrows 1\nxllcorner 500000\nyllcorner 0\ncellsize 30\n5 6\n")
	write(t, filepath.Join(dir, "a.prj"), `PROJCS["WGS_1984_UTM_Zone_31N",GEOGCS["GCS_WGS_1984"]]`)
	f, err := terrain.Open(filepath.Join(dir, "a.asc"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if f.System != terrain.UTM(coord.Projection{Zone: 31}) {
		t.Errorf("%+v", f.System)
	}
}

func write(t *testing.T, path, body string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(body), 0o644); err != nil {
		t.Fatal(err)
	}
}

// shared finds a file of the open data that is not part of the project.
func shared(t *testing.T, name string) string {
	t.Helper()
	return outside.Shared(t, name)
}

// An open list of 40,200 points every 0.005 degrees (18 seconds), counted with wc, sort
// and uniq: 201 longitudes, 200 latitudes.
func TestPointsOfARegister(t *testing.T) {
	f, err := terrain.Open(shared(t, "data/ethiopia_sidama/dem_points.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if f.Rows != 200 || f.Cols != 201 || math.Abs(f.CellX-0.005) > 1e-9 || math.Abs(f.CellY-0.005) > 1e-9 {
		t.Errorf("%+v", f.Frame)
	}
	if z, ok := f.Value(coord.LonLat{Lon: 37.99986111111111, Lat: 6.004861111111111}); !ok || math.Abs(z-1264) > 1e-6 {
		t.Errorf("first point %v %v, want 1264", z, ok)
	}
}
