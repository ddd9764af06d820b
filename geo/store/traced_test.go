package store_test

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

func traced(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Lines, points and outlines of RFC 7946, with names in the languages that files come in.
func TestTracedGeoJSON(t *testing.T) {
	got, err := store.OpenTraced(traced(t, "roads.geojson", `{"type":"FeatureCollection","features":[
		{"type":"Feature","properties":{"NOM":"Piste 4","surface":"terre"},"geometry":{"type":"LineString","coordinates":[[0.1,0.2],[0.3,0.4],[0.5,0.4]]}},
		{"type":"Feature","properties":{"name":"School"},"geometry":{"type":"Point","coordinates":[0.2,0.3]}},
		{"type":"Feature","properties":{},"geometry":{"type":"MultiLineString","coordinates":[[[0,0],[1,1]],[[2,2],[3,3]]]}},
		{"type":"Feature","properties":{"nome":"Lago"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]}},
		{"type":"Feature","properties":null,"geometry":null}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Ways) != 4 || len(got.Marks) != 1 || got.Ways[0].Name != "Piste 4" || len(got.Ways[0].Line) != 3 || got.Ways[3].Name != "Lago" ||
		got.Marks[0] != (store.Mark{Name: "School", At: orb.Point{0.2, 0.3}}) {
		t.Errorf("%+v", got)
	}
}

// What cannot be shown is refused with its name: no GeoJSON, metres for degrees, no file.
func TestTracedRefused(t *testing.T) {
	for name, text := range map[string]string{
		"text.geojson": "roads of the district", "cut.geojson": `{"type":"FeatureCollection","features":[{"type":"Fea`,
		"metres.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[826400,56300]}}]}`,
		"none.gpkg":      "SQLite format 3", "one.geojson": `{"type":"Point","coordinates":[1,2]}`,
	} {
		_, err := store.OpenTraced(traced(t, name, text))
		if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := store.OpenTraced(filepath.Join(t.TempDir(), "nothing.geojson")); geo.KindOf(err) != geo.NotFound {
		t.Errorf("no file: %v", err)
	}
}

// A GeoPackage (OGC 12-128, clause 2.1.3): a head of 8 bytes, here with an envelope of 32,
// then well-known binary. Layers in metres are left out; without another the file is refused.
func TestTracedGeoPackage(t *testing.T) {
	write := func(srs int) string {
		path := filepath.Join(t.TempDir(), "ways.gpkg")
		run := database(t, path)
		run(`CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, geometry_type_name TEXT, srs_id INTEGER, z INTEGER, m INTEGER)`)
		run(`INSERT INTO gpkg_geometry_columns VALUES ('my ways', 'the geom', 'LINESTRING', ?, 0, 0)`, srs)
		run(`CREATE TABLE "my ways" (fid INTEGER PRIMARY KEY, "the geom" BLOB, Name TEXT)`)
		body := wkb.MustMarshal(orb.LineString{{0.1, 0.2}, {0.3, 0.4}})
		head := make([]byte, 40)
		copy(head, []byte{'G', 'P', 0, 1 | 1<<1})
		binary.LittleEndian.PutUint32(head[4:], uint32(srs))
		run(`INSERT INTO "my ways" ("the geom", Name) VALUES (?, 'Track'), (NULL, 'none'), (?, 'empty')`, append(head, body...), []byte{'G', 'P', 0, 1 | 1<<4, 0, 0, 0, 0})
		return path
	}
	got, err := store.OpenTraced(write(4326))
	if err != nil || len(got.Ways) != 1 || got.Ways[0].Name != "Track" || got.Ways[0].Line[1] != (orb.Point{0.3, 0.4}) || len(got.Marks) != 0 {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := store.OpenTraced(write(32631)); geo.KindOf(err) != geo.Invalid {
		t.Errorf("in metres: %v", err)
	}
}
