package terrain_test

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/outside"
	"waterstrike/geo/terrain"
)

// gdal runs a program of GDAL, an outside reader of GeoTIFF.
func gdal(t *testing.T, program string, args ...string) string {
	t.Helper()
	out, err := exec.Command(outside.Program(t, program, "gdal-bin"), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", program, args, err, out)
	}
	return string(out)
}

// A surface that we write is where GDAL looks for it, with the values that were meant:
// the sum of longitude and twice the latitude, missing in the east.
func TestGDALReadsASurface(t *testing.T) {
	frame := terrain.Frame{Rows: 300, Cols: 400, West: -0.2, North: 0.15, CellX: 0.001, CellY: 0.001}
	grid, err := terrain.Sample(t.Context(), frame, func(p coord.LonLat) (float64, bool) { return p.Lon + 2*p.Lat, p.Lon < 0.1 }, nil)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "surface.tif")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := terrain.WriteGeoTIFF(t.Context(), f, grid, nil); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	told := gdal(t, "gdalinfo", path)
	for _, want := range []string{
		"Size is 400, 300", `ID["EPSG",4326]`, "Origin = (-0.2", "Pixel Size = (0.001", "Type=Float32", "NoData Value=-3.40282",
	} {
		if !strings.Contains(told, want) {
			t.Errorf("no %q in %s", want, told)
		}
	}
	for _, p := range []coord.LonLat{{Lon: -0.1995, Lat: 0.1495}, {Lon: 0.0505, Lat: -0.1005}, {Lon: -0.1005, Lat: 0.0005}} {
		said := gdal(t, "gdallocationinfo", "-valonly", "-wgs84", path, fmt.Sprint(p.Lon), fmt.Sprint(p.Lat))
		got, err := strconv.ParseFloat(strings.TrimSpace(said), 64)
		if want := p.Lon + 2*p.Lat; err != nil || math.Abs(got-want) > 1e-6 { // 32-bit floats
			t.Errorf("at %v: %q, want %g", p, said, want)
		}
	}
}

// Several values of every cell are bands with their names, on a grid in metres.
func TestGDALReadsBands(t *testing.T) {
	frame := terrain.Frame{System: terrain.UTM(coord.UTM(coord.LonLat{Lon: 0.5, Lat: -0.5})), Rows: 270, Cols: 300, West: 2e5, North: 99e5, CellX: 500, CellY: 500}
	bands := []terrain.Band{
		{Name: "chance", Values: func(row, col int) (float64, bool) { return float64(row) / 1000, col != 7 }},
		{Name: "low <m>", Values: func(row, col int) (float64, bool) { return -float64(col), true }},
		{Name: "bores", Values: func(row, col int) (float64, bool) { return float64(row * col), true }},
	}
	path := filepath.Join(t.TempDir(), "bands.tif")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := terrain.WriteBands(t.Context(), f, frame, bands, nil); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	told := gdal(t, "gdalinfo", path)
	for _, want := range []string{
		"Size is 300, 270", `ID["EPSG",32731]`, "Origin = (200000", "Pixel Size = (500", "Band 3 ", "NoData Value=-3.40282",
		"Description = chance", "Description = low <m>", "Description = bores",
	} {
		if !strings.Contains(told, want) {
			t.Errorf("no %q in %s", want, told)
		}
	}
	if strings.Contains(told, "Band 4 ") || strings.Contains(told, "Warning") {
		t.Error(told)
	}
	for _, at := range [][2]int{{0, 0}, {269, 299}, {256, 255}, {100, 7}} {
		row, col := at[0], at[1]
		said := strings.Fields(gdal(t, "gdallocationinfo", "-valonly", path, strconv.Itoa(col), strconv.Itoa(row)))
		for i, band := range bands {
			want, ok := band.Values(row, col)
			got, err := strconv.ParseFloat(said[i], 64)
			if err != nil || ok && math.Abs(got-want) > 1e-6*(1+math.Abs(want)) || !ok && got > -1e38 { // 32-bit floats
				t.Errorf("%s at row %d, column %d: %s, want %g, %v", band.Name, row, col, said[i], want, ok)
			}
		}
	}
	if terrain.WriteBands(t.Context(), f, frame, nil, nil) == nil {
		t.Error("a file without bands")
	}
}
