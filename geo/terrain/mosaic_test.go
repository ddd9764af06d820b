package terrain_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// plane rises 1,000 m a degree eastward and 500 m northward.
func plane(p coord.LonLat) (float64, bool) { return 100 + 1000*p.Lon + 500*p.Lat, true }

// put writes the land of a function as a GeoTIFF of n by n cells of a hundredth degree.
func put(t testing.TB, dir, name string, west, north float64, n int, land func(coord.LonLat) (float64, bool)) {
	t.Helper()
	g, err := terrain.Sample(t.Context(), terrain.Frame{
		Rows: n, Cols: n, West: west, North: north, CellX: 0.01, CellY: 0.01,
	}, land, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := terrain.WriteGeoTIFF(t.Context(), f, g, nil); err != nil {
		t.Fatal(err)
	}
}

// Two tiles side by side are one plane, without a step where they meet.
func TestMosaicSeam(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "a.tif", 0, 0.4, 40, plane)
	put(t, dir, "b.tif", 0.4, 0.4, 40, plane)
	if err := os.WriteFile(filepath.Join(dir, "broken.tif"), []byte("II*"), 0o644); err != nil {
		t.Fatal(err)
	}
	m, err := terrain.OpenMosaic(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	if len(m.Files()) != 2 || len(m.Refused()) != 1 {
		t.Fatalf("files %v, refused %v; want two and one", m.Files(), m.Refused())
	}
	for lon := 0.02; lon < 0.78; lon += 0.0031 {
		p := coord.LonLat{Lon: lon, Lat: 0.2}
		want, _ := plane(p)
		if got, ok := m.Elevation(p); !ok || math.Abs(got-want) > 1e-3 { // 32-bit values near 500
			t.Fatalf("%v m at %v, want %v", got, lon, want)
		}
	}
	if _, ok := m.Elevation(coord.LonLat{Lon: 2, Lat: 0.2}); ok {
		t.Error("an elevation where no file reaches")
	}
	if m.Err() != nil {
		t.Error(m.Err())
	}
}

// valley falls to a channel along the middle of the land.
func valley(p coord.LonLat) (float64, bool) { return 50 + 400*math.Abs(p.Lon-0.2) + 20*p.Lat, true }

// What is prepared once is read back the same, and stands for the land: low and near at
// the channel, high and far beside it.
func TestPrepare(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "land.tif", 0, 0.4, 41, valley)
	o := terrain.Defaults()
	o.DrainageM2 = 2e7
	region := orb.Bound{Min: orb.Point{0.02, 0.05}, Max: orb.Point{0.38, 0.35}}
	var first [2]terrain.Setting
	for round := range 2 {
		land, err := terrain.Prepare(context.Background(), dir, region, o, nil)
		if err != nil {
			t.Fatal(err)
		}
		channel, side := land.At(coord.LonLat{Lon: 0.205, Lat: 0.1}), land.At(coord.LonLat{Lon: 0.33, Lat: 0.1})
		if round == 0 {
			first = [2]terrain.Setting{channel, side}
		}
		if first != [2]terrain.Setting{channel, side} {
			t.Errorf("read back %+v, was %+v", [2]terrain.Setting{channel, side}, first)
		}
		if !(channel.AboveDrainageM.Or(99) < 5) || !(side.AboveDrainageM.Or(0) > 30) || !(side.ToDrainageM.Or(0) > 8_000) {
			t.Errorf("channel %+v, side %+v", channel, side)
		}
		if slope := side.Slope.Or(0); math.Abs(slope-400/111320.0) > 2e-4 { // a degree of longitude at the equator
			t.Errorf("slope %v", slope)
		}
		if land.Err() != nil {
			t.Error(land.Err())
		}
		if err := land.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestPrepareRefuses(t *testing.T) {
	_, err := terrain.Prepare(t.Context(), t.TempDir(), orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{0, 0}}, terrain.Defaults(), nil)
	if geo.KindOf(err) != geo.Invalid {
		t.Errorf("a region upside down: %v", err)
	}
	_, err = terrain.Prepare(t.Context(), t.TempDir(), orb.Bound{Max: orb.Point{1, 1}}, terrain.Defaults(), nil)
	if geo.KindOf(err) != geo.NotFound {
		t.Errorf("a folder without elevations: %v", err)
	}
}

// Trigonometry: a rise of 1 in 1 is 45 degrees, of √3 in 1 is 60.
func TestSlopeDeg(t *testing.T) {
	for rise, want := range map[float64]float64{0: 0, 1: 45, math.Sqrt(3): 60} {
		if got := terrain.SlopeDeg(rise); math.Abs(got-want) > 1e-12 { // one arctangent
			t.Errorf("a rise of %v is %v degrees, want %v", rise, got, want)
		}
	}
}
