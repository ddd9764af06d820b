package tile_test

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
	"waterstrike/server/tile"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
)

// relief makes elevations of a quarter of a degree by a formula and opens them.
func relief(t *testing.T, height func(p coord.LonLat) float64) *tile.Relief {
	t.Helper()
	frame := terrain.Frame{Rows: 300, Cols: 300, West: 0, North: 0.25, CellX: 0.25 / 300, CellY: 0.25 / 300}
	g, err := terrain.Sample(t.Context(), frame, func(p coord.LonLat) (float64, bool) { return height(p), true }, nil)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file, err := os.Create(filepath.Join(dir, "land.tif"))
	if err != nil {
		t.Fatal(err)
	}
	if err := terrain.WriteGeoTIFF(t.Context(), file, g, nil); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	m, err := terrain.OpenMosaic(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { m.Close() })
	r, err := tile.NewRelief(t.Context(), m)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// hill is a round hill of 300 m.
func hill(p coord.LonLat) float64 {
	far := math.Hypot(p.Lon-0.12, p.Lat-0.12) / 0.06
	return 300 * math.Exp(-far*far)
}

// Every point of a contour is as high as the contour says, by the formula of the hill, and
// lines end nowhere but at the edge of their tile.
func TestContoursAreLevel(t *testing.T) {
	r := relief(t, hill)
	lines := 0
	for _, z := range []maptile.Zoom{10, 12, 14} {
		address := maptile.At(orb.Point{0.15, 0.12}, z)
		step := r.StepM(z)
		layers := r.Contours(address)
		back, size := encoded(t, layers)
		if len(back) != 1 || size > 200_000 {
			t.Fatalf("zoom %d: %d layers, %d bytes", z, len(back), size)
		}
		for _, f := range back[0].Features {
			m := f.Properties.MustFloat64("m")
			if math.Mod(m, step) != 0 || (math.Mod(m, 5*step) == 0) != f.Properties.MustBool("strong", false) {
				t.Errorf("zoom %d: a contour of %v m, strong %v, every %v m", z, m, f.Properties["strong"], step)
			}
		}
		for _, f := range layers[0].Features {
			for _, line := range f.Geometry.(orb.MultiLineString) {
				lines++
				for _, end := range []orb.Point{line[0], line[len(line)-1]} {
					inside := end[0] > 0 && end[0] < 4096 && end[1] > 0 && end[1] < 4096
					if inside && !line[0].Equal(line[len(line)-1]) {
						t.Errorf("zoom %d: a line of %v m ends inside at %v", z, f.Properties["m"], end)
					}
				}
			}
		}
		layers.ProjectToWGS84(address)
		for _, f := range layers[0].Features {
			for _, line := range f.Geometry.(orb.MultiLineString) {
				for _, p := range line {
					if off := math.Abs(hill(coord.LonLat{Lon: p[0], Lat: p[1]}) - f.Properties["m"].(float64)); off > 4 {
						t.Fatalf("zoom %d: %v is %v m off its contour", z, p, off)
					}
				}
			}
		}
	}
	if lines < 10 {
		t.Errorf("only %d lines", lines)
	}
	if got := r.Contours(maptile.At(orb.Point{0.15, 0.12}, 5)); got != nil {
		t.Errorf("contours at zoom 5: %v", got)
	}
}

// The side of a hill that faces north-west is lit, the one across lies in shadow, as the
// angle between light and ground says; level land is clear.
func TestShade(t *testing.T) {
	r := relief(t, hill)
	address := maptile.At(orb.Point{0.12, 0.12}, 9)
	body, err := r.Shade(address)
	if err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if picture.Bounds().Dx() != 256 || picture.Bounds().Dy() != 256 {
		t.Fatalf("a picture of %v", picture.Bounds())
	}
	at := func(lon, lat float64) (bright, alpha uint32) {
		p := maptile.Fraction(orb.Point{lon, lat}, address.Z)
		red, _, _, a := picture.At(int((p[0]-float64(address.X))*256), int((p[1]-float64(address.Y))*256)).RGBA()
		return red, a
	}
	if bright, alpha := at(0.09, 0.15); bright == 0 || alpha == 0 {
		t.Errorf("the north-west is not lit: %d of %d", bright, alpha)
	}
	if bright, alpha := at(0.15, 0.09); bright != 0 || alpha == 0 {
		t.Errorf("the south-east is not dark: %d of %d", bright, alpha)
	}
	if _, alpha := at(0.24, 0.01); alpha > 3000 {
		t.Errorf("level land is not clear: %d", alpha)
	}
	if _, alpha := at(0.3, 0.3); alpha != 0 {
		t.Errorf("what is not known is not clear: %d", alpha)
	}
}

// Two pictures beside each other join: the columns of pixels at their common edge differ
// no more than neighbours within one do.
func TestShadesJoin(t *testing.T) {
	r := relief(t, hill)
	for _, z := range []maptile.Zoom{11, 13, 14} {
		left := maptile.At(orb.Point{0.12, 0.14}, z)
		tone := func(address maptile.Tile, x, y int) int {
			body, err := r.Shade(address)
			if err != nil {
				t.Fatal(err)
			}
			picture, err := png.Decode(bytes.NewReader(body))
			if err != nil {
				t.Fatal(err)
			}
			red, _, _, a := picture.At(x, y).RGBA()
			if red == 0 {
				return -int(a >> 8)
			}
			return int(a >> 8)
		}
		right := maptile.New(left.X+1, left.Y, z)
		if d := tone(left, 255, 100) - tone(right, 0, 100); d > 12 || d < -12 {
			t.Errorf("zoom %d: a step of %d at the edge", z, d)
		}
	}
}

// Streams run down from the hill where enough land drains, and are told in tiles.
func TestStreamsInTiles(t *testing.T) {
	valley := func(p coord.LonLat) float64 { return 40*p.Lat/0.25 + 2000*math.Abs(p.Lon-0.12) }
	r := relief(t, valley)
	if len(r.Streams) == 0 {
		t.Fatal("no streams")
	}
	p := tile.NewPlaces(tile.Ground{Streams: r.Streams})
	address := maptile.At(orb.Point{0.12, 0.03}, 12)
	layers := p.Layers(address)
	if len(layers) != 1 || layers[0].Name != "streams" {
		t.Fatalf("layers %v", layers)
	}
	layers.ProjectToWGS84(address)
	for _, f := range layers[0].Features {
		for _, q := range f.Geometry.(orb.MultiLineString)[0] {
			if math.Abs(q[0]-0.12) > 0.002 {
				t.Errorf("the stream leaves the valley at %v", q)
			}
		}
	}
}

// Villages and points of a wide view are told by their most important ones and by groups,
// and add up.
func TestPlacesAddUp(t *testing.T) {
	var g tile.Ground
	for i := range 3000 {
		at := coord.Reading{Pos: coord.LonLat{Lon: float64(i%60) / 60, Lat: float64(i/60) / 60}}
		g.Villages = append(g.Villages, geo.Village{Name: "V", Position: at, People: geo.Some(3000 - i)})
		works := geo.Opt[bool]{}
		if i%3 > 0 {
			works = geo.Some(i%3 == 1)
		}
		g.Points = append(g.Points, geo.WaterPoint{Position: at, Works: works})
	}
	g.Boundaries = []geo.Boundary{{Name: "Land", Shape: orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}}}}}}
	g.Rivers = []geo.River{{Name: "Long", Line: orb.LineString{{0, 0}, {1, 1}}}}
	p := tile.NewPlaces(g)
	back, size := encoded(t, p.Layers(maptile.New(0, 0, 0)))
	if size > 200_000 {
		t.Errorf("%d bytes", size)
	}
	villages, points, states, most := 0, 0, map[string]int{}, 0.0
	for _, l := range back {
		for _, f := range l.Features {
			switch l.Name {
			case "villages":
				villages += 1 + int(f.Properties.MustFloat64("more", 0))
				most = max(most, f.Properties.MustFloat64("people"))
			case "points":
				points += int(f.Properties.MustFloat64("n", 1))
				for _, s := range []string{"works", "broken", "unknown"} {
					states[s] += int(f.Properties.MustFloat64(s, 0))
				}
			}
		}
	}
	if villages != 3000 || points != 3000 || most != 3000 || states["works"] != 1000 || states["broken"] != 1000 || states["unknown"] != 1000 {
		t.Errorf("%d villages, the largest of %v; %d points: %v", villages, most, points, states)
	}
	near, _ := encoded(t, p.Layers(maptile.At(orb.Point{0.5, 0.5}, 8)))
	names := map[string]bool{}
	for _, l := range near {
		names[l.Name] = true
	}
	if !names["rivers"] || names["streams"] {
		t.Errorf("layers %v", names)
	}
}

// What others drew is cut like the rest: a road from zoom 7, places from zoom 10, each with
// its name; the ends of a line of two points stay where they are (Web Mercator: the middle
// of the map is 0N 0E).
func TestRoadsAndMarks(t *testing.T) {
	p := tile.NewPlaces(tile.Ground{
		Roads: []tile.Named[orb.LineString]{{Name: "Track", Shape: orb.LineString{{-0.01, 0}, {0.01, 0}}}},
		Marks: []tile.Named[orb.Point]{{Name: "School", Shape: orb.Point{0.005, -0.005}}},
	})
	named := func(z, x, y int, layer string) (out []string) {
		at, err := tile.Address(z, x, y)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range p.Layers(at) {
			for _, f := range l.Features {
				if l.Name == layer {
					out = append(out, f.Properties.MustString("name"))
				}
			}
		}
		return out
	}
	for _, tt := range []struct {
		z, x, y     int
		road, marks int
	}{{6, 32, 32, 0, 0}, {7, 64, 64, 1, 0}, {10, 512, 512, 1, 1}, {10, 511, 511, 1, 0}, {10, 100, 100, 0, 0}} {
		if roads, marks := named(tt.z, tt.x, tt.y, "roads"), named(tt.z, tt.x, tt.y, "marks"); len(roads) != tt.road || len(marks) != tt.marks {
			t.Errorf("tile %d/%d/%d: %v, %v", tt.z, tt.x, tt.y, roads, marks)
		}
	}
	if got := named(10, 512, 512, "marks"); len(got) == 1 && got[0] != "School" {
		t.Errorf("a place called %s", got[0])
	}
}
