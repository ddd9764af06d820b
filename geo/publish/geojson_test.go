package publish_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/publish"
)

// maps are the writers of GeoJSON, by name without its ending.
var maps = byName(publish.GeoJSONFiles())

func written(t *testing.T, write func(context.Context, io.Writer, publish.Source) error, g ground) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := write(t.Context(), &out, g); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestGeoJSONClauses holds every writer to RFC 7946, clause by clause.
func TestGeoJSONClauses(t *testing.T) {
	for name, write := range maps {
		for _, g := range []ground{{}, invented()} {
			data := written(t, write, g)
			var top map[string]any
			if err := json.Unmarshal(data, &top); err != nil { // section 2: a GeoJSON text is a JSON text
				t.Fatalf("%s: %v\n%s", name, err, data)
			}
			if top["type"] != "FeatureCollection" { // section 3, 3.3
				t.Errorf("%s: type %v", name, top["type"])
			}
			features, ok := top["features"].([]any) // section 3.3: an array, possibly empty
			if !ok || (len(features) == 0) != (len(g.villages) == 0) {
				t.Errorf("%s: features %v", name, top["features"])
			}
			for _, member := range []string{"crs", "coordinates", "geometry", "geometries", "properties"} {
				if _, has := top[member]; has { // section 4 and appendix B.1 (crs), section 7.1 (the others)
					t.Errorf("%s: has a member %q", name, member)
				}
			}
			for _, f := range features {
				checkFeature(t, name, f.(map[string]any))
			}
		}
	}
}

func checkFeature(t *testing.T, name string, f map[string]any) {
	t.Helper()
	if f["type"] != "Feature" { // section 3.2
		t.Errorf("%s: type %v", name, f["type"])
	}
	if s, ok := f["id"].(string); !ok || len(s) != 36 { // section 3.2: a string or number
		t.Errorf("%s: id %v", name, f["id"])
	}
	if _, ok := f["properties"].(map[string]any); !ok { // section 3.2: an object or null
		t.Errorf("%s: properties %v", name, f["properties"])
	}
	if _, has := f["coordinates"]; has { // section 7.1
		t.Errorf("%s: a feature with coordinates of its own", name)
	}
	shape, has := f["geometry"]
	if !has { // section 3.2: null where there is none
		t.Errorf("%s: no geometry member", name)
	}
	if shape != nil {
		checkShape(t, name, shape.(map[string]any))
	}
}

func checkShape(t *testing.T, name string, shape map[string]any) {
	t.Helper()
	type list = []any
	position := func(v any) {
		p := v.(list)
		if len(p) != 2 { // section 3.1.1: longitude, latitude; no height here
			t.Errorf("%s: position %v", name, p)
		}
		lon, lat := p[0].(float64), p[1].(float64)
		if math.Abs(lon) > 180 || math.Abs(lat) > 90 { // section 4: degrees
			t.Errorf("%s: position %v", name, p)
		}
	}
	coordinates := shape["coordinates"]
	switch shape["type"] { // section 1.4
	case "Point": // section 3.1.2
		position(coordinates)
	case "LineString": // section 3.1.4: two or more positions
		if len(coordinates.(list)) < 2 {
			t.Errorf("%s: line %v", name, coordinates)
		}
		for _, p := range coordinates.(list) {
			position(p)
		}
	case "MultiPolygon": // section 3.1.7, of polygons after 3.1.6
		for _, polygon := range coordinates.(list) {
			for i, ring := range polygon.(list) {
				checkRing(t, name, i, ring.(list))
				for _, p := range ring.(list) {
					position(p)
				}
			}
		}
	default:
		t.Errorf("%s: geometry type %v", name, shape["type"])
	}
}

// checkRing is section 3.1.6: closed, of four or more positions, the outline
// counter-clockwise, holes clockwise. The area is by the trapezoid formula.
func checkRing(t *testing.T, name string, nth int, ring []any) {
	t.Helper()
	at := func(i int) (x, y float64) {
		p := ring[i].([]any)
		return p[0].(float64), p[1].(float64)
	}
	area := 0.0
	for i := range len(ring) - 1 {
		x1, y1 := at(i)
		x2, y2 := at(i + 1)
		area += (x1 - x2) * (y1 + y2) / 2
	}
	x1, y1 := at(0)
	x2, y2 := at(len(ring) - 1)
	if len(ring) < 4 || x1 != x2 || y1 != y2 || area == 0 || area > 0 != (nth == 0) {
		t.Errorf("%s: ring %d of area %v: %v", name, nth, area, ring)
	}
}

// The polygons of RFC 7946, appendix A.3, given with their rings the wrong way round,
// open, or both: written as the RFC has them.
func TestBoundariesTurned(t *testing.T) {
	outline := orb.Ring{{100, 0}, {101, 0}, {101, 1}, {100, 1}, {100, 0}}
	hole := orb.Ring{{100.8, 0.8}, {100.8, 0.2}, {100.2, 0.2}, {100.2, 0.8}, {100.8, 0.8}}
	const want = `{"type":"MultiPolygon","coordinates":[[[[100,0],[101,0],[101,1],[100,1],[100,0]],[[100.8,0.8],[100.8,0.2],[100.2,0.2],[100.2,0.8],[100.8,0.8]]]]}`
	back := func(r orb.Ring) orb.Ring {
		r = slices.Clone(r)
		slices.Reverse(r)
		return r
	}
	for name, given := range map[string]orb.Polygon{
		"right":         {outline, hole},
		"both wrong":    {back(outline), back(hole)},
		"outline wrong": {back(outline), hole},
		"hole wrong":    {outline, back(hole)},
		"open":          {outline[:4], hole[:4]},
	} {
		kept := given.Clone()
		g := ground{boundaries: []geo.Boundary{{ID: geo.PlaceID(id(1)), Shape: orb.MultiPolygon{given}}}}
		if got := string(written(t, maps["boundaries"], g)); !strings.Contains(got, `"geometry":`+want) {
			t.Errorf("%s: %s", name, got)
		}
		if !orb.Equal(given, kept) {
			t.Errorf("%s: the caller's own rings were turned", name)
		}
	}
}

// What encloses nothing or has no length has no place in RFC 7946 (3.1.4, 3.1.6).
func TestEmptyShapes(t *testing.T) {
	flat := orb.Ring{{0, 0}, {1, 1}, {2, 2}, {0, 0}}
	tiny := orb.Ring{{0, 0}, {1e-9, 0}, {0, 1e-9}, {0, 0}} // a tenth of a millimetre
	for name, shape := range map[string]orb.MultiPolygon{
		"no areas":         nil,
		"no rings":         {{}},
		"no positions":     {{{}}},
		"a point":          {{{{1, 1}}}},
		"flat":             {{flat}},
		"tiny":             {{tiny}},
		"hole without all": {{flat, square(0, 0, 1)}},
	} {
		g := ground{boundaries: []geo.Boundary{{ID: geo.PlaceID(id(1)), Shape: shape}}}
		if got := string(written(t, maps["boundaries"], g)); !strings.Contains(got, `"geometry":null`) {
			t.Errorf("%s: %s", name, got)
		}
	}
	g := ground{boundaries: []geo.Boundary{{ID: geo.PlaceID(id(1)), Shape: orb.MultiPolygon{{square(0, 0, 1), flat}, {tiny}}}}}
	if got := string(written(t, maps["boundaries"], g)); !strings.Contains(got, `"coordinates":[[[[0,0],[1,0],[1,1],[0,1],[0,0]]]]`) {
		t.Errorf("with rings left out: %s", got)
	}
	for name, l := range map[string]orb.LineString{"none": nil, "one": {{1, 1}}, "same": {{1, 1}, {1 + 1e-9, 1}}} {
		g := ground{rivers: []geo.River{{ID: geo.PlaceID(id(1)), Line: l}}}
		if got := string(written(t, maps["rivers"], g)); !strings.Contains(got, `"geometry":null`) {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// RFC 7946, section 3.1.1 (longitude first), and JSON's numbers without exponent or -0
// for plain readers. A point is written as it is held, so that it can come back; the many
// points of a shape have no more decimals than are worth their bytes (section 11.2).
func TestPositions(t *testing.T) {
	for _, c := range []struct {
		lon, lat    float64
		want, shape string
	}{
		{12.3456789012, -9.8765432109, "[12.3456789012,-9.8765432109]", "[12.3456789,-9.8765432]"},
		{-1e-9, 1e-7, "[-0.000000001,0.0000001]", "[0,0.0000001]"},
		{179.99999999, -90, "[179.99999999,-90]", "[180,-90]"},
		{0.30000000000000004, math.Copysign(0, -1), "[0.30000000000000004,0]", "[0.3,0]"},
	} {
		g := ground{
			bores:  []geo.Bore{{ID: geo.BoreID(id(1)), Position: geo.Some(reading(c.lon, c.lat))}},
			rivers: []geo.River{{ID: geo.PlaceID(id(1)), Line: orb.LineString{{c.lon, c.lat}, {1, 1}}}},
		}
		if got := string(written(t, maps["bores"], g)); !strings.Contains(got, `"coordinates":`+c.want+`}`) {
			t.Errorf("%v, %v: %s", c.lon, c.lat, got)
		}
		if got := string(written(t, maps["rivers"], g)); !strings.Contains(got, `"coordinates":[`+c.shape+`,[1,1]]}`) {
			t.Errorf("%v, %v: %s", c.lon, c.lat, got)
		}
	}
}

// feature is what a reader of RFC 7946 finds of one record.
type feature struct {
	ID       string
	Geometry *struct {
		Type        string
		Coordinates json.RawMessage
	}
	Properties map[string]any
}

// features reads a collection back.
func features(t *testing.T, data []byte) []feature {
	t.Helper()
	var top struct{ Features []feature }
	if err := json.Unmarshal(data, &top); err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	return top.Features
}

// point returns the place of a feature that has one.
func (f feature) point(t *testing.T) coord.LonLat {
	t.Helper()
	var p [2]float64
	if err := json.Unmarshal(f.Geometry.Coordinates, &p); err != nil || f.Geometry.Type != "Point" {
		t.Fatalf("%s %s: %v", f.Geometry.Type, f.Geometry.Coordinates, err)
	}
	return coord.LonLat{Lon: p[0], Lat: p[1]}
}

func TestGeoJSONRoundTrip(t *testing.T) {
	g := invented()
	back := features(t, written(t, maps["bores"], g))
	if len(back) != len(g.bores) {
		t.Fatalf("%d features of %d bores", len(back), len(g.bores))
	}
	for i, f := range back {
		b := g.bores[i]
		code, _ := f.Properties["code"].(string) // left out when empty
		if f.ID != string(b.ID) || code != strings.ToValidUTF8(b.Code, "\uFFFD") {
			t.Errorf("bore %d: id %v, code %q", i, f.ID, code)
		}
		if depth, known := b.DepthM.Get(); known != (f.Properties["depth_m"] != nil) || known && f.Properties["depth_m"] != depth {
			t.Errorf("bore %d: depth %v, want %v", i, f.Properties["depth_m"], b.DepthM)
		}
		at, known := b.Position.Get()
		if known != (f.Geometry != nil) {
			t.Errorf("bore %d: geometry %v", i, f.Geometry)
		} else if known && at.Pos != f.point(t) {
			t.Errorf("bore %d: at %v, want %v", i, f.point(t), at.Pos)
		}
	}
}

func TestWaterPointProperties(t *testing.T) {
	back := features(t, written(t, maps["water_points"], invented()))
	first, second := back[0].Properties, back[1].Properties
	if first["dry_months"] != "3 4" || first["works"] != false || first["users"] != nil {
		t.Errorf("first: %v", first)
	}
	if second["dry_months"] != "never" || second["works"] != nil || second["users"] != 120.0 {
		t.Errorf("second: %v", second)
	}
}

func TestGeoJSONRefuses(t *testing.T) {
	nan := math.NaN()
	for name, g := range map[string]ground{
		"position NaN":     {bores: []geo.Bore{{Position: geo.Some(reading(nan, 0))}}},
		"latitude of 91":   {bores: []geo.Bore{{Position: geo.Some(reading(0, 91))}}},
		"depth NaN":        {bores: []geo.Bore{{DepthM: geo.Some(nan)}}},
		"depth infinite":   {bores: []geo.Bore{{DepthM: geo.Some(math.Inf(1))}}},
		"boundary NaN":     {boundaries: []geo.Boundary{{Shape: orb.MultiPolygon{{{{0, 0}, {1, nan}, {1, 1}, {0, 0}}}}}}},
		"boundary off map": {boundaries: []geo.Boundary{{Shape: orb.MultiPolygon{{square(179.5, 0, 1)}}}}},
		"river off map":    {rivers: []geo.River{{Line: orb.LineString{{0, 0}, {0, 95}}}}},
	} {
		failed := 0
		for _, write := range maps {
			if write(t.Context(), io.Discard, g) != nil {
				failed++
			}
		}
		if failed != 1 {
			t.Errorf("%s: %d writers refuse, want the one", name, failed)
		}
	}
}

// failing is a writer on a full disk.
type failing struct{}

var errFull = errors.New("disk full")

func (failing) Write([]byte) (int, error) { return 0, errFull }

func TestGeoJSONPassesErrorsOn(t *testing.T) {
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	for name, write := range maps {
		for _, g := range []ground{{}, invented()} {
			if err := write(t.Context(), failing{}, g); !errors.Is(err, errFull) {
				t.Errorf("%s, full disk: %v", name, err)
			}
		}
		if err := write(gone, io.Discard, invented()); !errors.Is(err, context.Canceled) {
			t.Errorf("%s, cancelled: %v", name, err)
		}
	}
}
