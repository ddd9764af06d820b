package store_test

import (
	"database/sql"
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// foreignFile writes a GeoPackage as another program would (OGC 12-128, clauses 1.1.1 and
// 2.1): two layers, one in WGS 84 and one on a UTM grid, and a table of attributes.
func foreignFile(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "office.gpkg")
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, statement := range []string{
		`PRAGMA application_id = 1196444487`,
		`CREATE TABLE gpkg_contents (table_name TEXT PRIMARY KEY, data_type TEXT)`,
		`CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, srs_id INTEGER)`,
		`INSERT INTO gpkg_contents VALUES ('Wells', 'features'), ('grid', 'features'), ('notes', 'attributes'), ('tiles', 'tiles')`,
		`INSERT INTO gpkg_geometry_columns VALUES ('Wells', 'geom', 4326), ('grid', 'shape', 32631)`,
		`CREATE TABLE Wells (fid INTEGER PRIMARY KEY, geom BLOB, depth REAL, place TEXT, done DATE)`,
		`CREATE TABLE grid (shape BLOB, depth REAL)`,
		`CREATE TABLE notes (about TEXT)`,
	} {
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := db.Exec(`INSERT INTO Wells VALUES (1, ?, 12.5, 'Anse', '2021-03-09'), (2, NULL, NULL, NULL, NULL), (3, x'00', 3, 'x', 'soon')`, gpkgPoint(4326, 0.5, -0.25)); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`INSERT INTO grid VALUES (?, 9)`, gpkgPoint(32631, 300000, 40000)); err != nil {
		t.Fatal(err)
	}
	return path
}

// gpkgPoint writes a point as OGC 12-128 clause 2.1.3 has it: big-endian, no envelope.
func gpkgPoint(srs uint32, x, y float64) []byte {
	out := binary.BigEndian.AppendUint32([]byte{'G', 'P', 0, 0}, srs)
	out = append(out, 0, 0, 0, 0, 1) // WKB: big-endian point
	out = binary.BigEndian.AppendUint64(out, math.Float64bits(x))
	return binary.BigEndian.AppendUint64(out, math.Float64bits(y))
}

func TestOpenForeign(t *testing.T) {
	path := foreignFile(t)
	names, err := store.ForeignLayers(path)
	if err != nil || !slices.Equal(names, []string{"Wells", "grid", "notes"}) {
		t.Errorf("layers %q, %v", names, err)
	}
	for _, tt := range []struct {
		layer  string
		header []string
		rows   [][]string
	}{
		{
			"wells",
			[]string{"fid", "geometry.lon", "geometry.lat", "depth", "place", "done"},
			[][]string{{"1", "0.5", "-0.25", "12.5", "Anse", "2021-03-09"}, {"2", "", "", "", "", ""}, {"3", "", "", "3", "x", "soon"}},
		},
		{"grid", []string{"geometry.east", "geometry.north", "depth"}, [][]string{{"300000", "40000", "9"}}},
		{"notes", []string{"about"}, nil},
	} {
		f, err := store.OpenForeign(path, tt.layer)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(f.Header(), tt.header) {
			t.Errorf("%s: columns %q", tt.layer, f.Header())
		}
		for _, want := range tt.rows {
			if got, err := f.Next(); err != nil || !slices.Equal(got, want) {
				t.Errorf("%s: %q %v, want %q", tt.layer, got, err, want)
			}
		}
		if _, err := f.Next(); !errors.Is(err, io.EOF) {
			t.Errorf("%s: %v after the last row", tt.layer, err)
		}
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestOpenForeignRefuses(t *testing.T) {
	path := foreignFile(t)
	text := filepath.Join(t.TempDir(), "text.gpkg")
	if err := os.WriteFile(text, []byte(strings.Repeat("no database\n", 20)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ path, layer, want string }{
		{path, "", "grid"}, {path, "tiles", "notes"}, {path, `x" UNION SELECT 1 --`, "Wells"}, {text, "", "no GeoPackage"},
	} {
		if _, err := store.OpenForeign(tt.path, tt.layer); geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s %q: %v", filepath.Base(tt.path), tt.layer, err)
		}
	}
	if _, err := store.OpenForeign(filepath.Join(t.TempDir(), "absent.gpkg"), ""); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("absent: %v", err)
	}
}
