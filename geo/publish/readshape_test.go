package publish_test

import (
	"bytes"
	"context"
	"testing"
	"testing/fstest"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
)

// shapeSink keeps shapes and counts what was listed.
type shapeSink struct {
	intake.Sink // nothing else of it is called
	boundaries  []geo.Boundary
	rivers      []geo.River
	listed      int
}

func (s *shapeSink) CountRow(string)          {}
func (s *shapeSink) AddIssue(geo.Issue) error { s.listed++; return nil }
func (s *shapeSink) AddBoundary(b geo.Boundary) error {
	s.boundaries = append(s.boundaries, b)
	return nil
}

func (s *shapeSink) AddRiver(r geo.River) error { s.rivers = append(s.rivers, r); return nil }

func read(t *testing.T, files fstest.MapFS, name string) (*shapeSink, intake.Summary) {
	t.Helper()
	var sink shapeSink
	sum, err := publish.Read(context.Background(), files, name, &sink, nil)
	if err != nil {
		t.Fatal(err)
	}
	return &sink, sum
}

// Shapes come back from our files as they were.
func TestShapesComeBack(t *testing.T) {
	area := orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}
	g := ground{
		boundaries: []geo.Boundary{{ID: geo.PlaceID(id(1)), Name: "North", Kind: "district", Shape: area, Source: geo.Provenance{By: "survey", Licence: "CC0-1.0"}}},
		rivers: []geo.River{
			{ID: geo.PlaceID(id(2)), Name: "Zumo", Perennial: geo.Some(true), Line: orb.LineString{{0, 0}, {0.5, -0.25}}, Source: geo.Provenance{File: "a.csv", Row: 3}},
			{ID: geo.PlaceID(id(3)), Line: orb.LineString{{0, 1}, {0.5, 1}}, Source: geo.Provenance{By: "survey"}},
		},
	}
	files := fstest.MapFS{}
	for _, f := range publish.GeoJSONFiles() {
		var out bytes.Buffer
		if err := f.Write(context.Background(), &out, g); err != nil {
			t.Fatal(err)
		}
		files["all/"+f.Name] = &fstest.MapFile{Data: out.Bytes()}
	}
	sink, sum := read(t, files, "all")
	if diff := gocmp.Diff(g.boundaries, sink.boundaries, cmpopts.EquateComparable(geo.Opt[bool]{})); diff != "" {
		t.Error(diff)
	}
	if diff := gocmp.Diff(g.rivers, sink.rivers, cmpopts.EquateComparable(geo.Opt[bool]{})); diff != "" {
		t.Error(diff)
	}
	if sum.Applied != 3 || sum.Rejected != 0 {
		t.Errorf("%+v", sum)
	}
}

// What is no outline is listed, and the others are taken; their ids stay the same.
func TestShapesOfOthers(t *testing.T) {
	text := `{"type":"FeatureCollection","features":[
		{"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]},"properties":{"Name":"North","code":7}},
		{"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]},"properties":{}},
		{"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1]]]},"properties":{"name":"open"}},
		{"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[0,0],[900,0],[1,1],[0,0]]]},"properties":{"name":"off the globe"}},
		{"type":"Feature","geometry":{"type":"Polygon","coordinates":"x"},"properties":{"name":"words"}},
		{"type":"Feature","geometry":{"type":"MultiPolygon","coordinates":[]},"properties":{"name":"nothing"}},
		{"type":"Feature","geometry":{"type":"Point","coordinates":[0,0]},"properties":{"name":"a point"}},
		{"type":"Feature","geometry":{"type":"LineString","coordinates":[[0,0]]},"properties":{"name":"short"}},
		{"type":"Feature","geometry":null,"properties":{"name":"nowhere"}}]}`
	files := fstest.MapFS{"d.geojson": &fstest.MapFile{Data: []byte(text)}}
	first, sum := read(t, files, "d.geojson")
	if len(first.boundaries) != 1 || len(first.rivers) != 0 || first.listed != 8 || sum.Rejected != 8 || sum.Rows != 9 {
		t.Fatalf("%+v, %+v", first, sum)
	}
	b := first.boundaries[0]
	if b.Name != "North" || b.Kind != "district" || b.Source.File != "d.geojson" || b.Source.Row != 1 || len(b.ID) != 36 {
		t.Errorf("%+v", b)
	}
	if again, _ := read(t, files, "d.geojson"); again.boundaries[0].ID != b.ID {
		t.Errorf("%s became %s", b.ID, again.boundaries[0].ID)
	}
}
