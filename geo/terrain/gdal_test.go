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
	"waterstrike/geo/terrain"
)

// gdal runs a program of GDAL, an outside reader of GeoTIFF.
func gdal(t *testing.T, program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is missing: apt-get install gdal-bin", program)
		}
		t.Skipf("%s is missing: apt-get install gdal-bin", program)
	}
	out, err := exec.Command(program, args...).CombinedOutput()
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
		"Size is 400, 300", `ID["EPSG",4326]`, "Origin = (-0.2", "Pixel Size = (0.001", "Type=Float32", "NoData Value=-3.402823",
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
