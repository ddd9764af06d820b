package store_test

import (
	"context"
	"database/sql"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"

	"github.com/paulmach/orb"
)

// raw opens a file with plain SQLite, as another program does.
func raw(t testing.TB, path string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	must(t, err)
	db.SetMaxOpenConns(1)
	t.Cleanup(func() { must(t, db.Close()) })
	return db
}

func scalar[T any](t testing.TB, db *sql.DB, query string, args ...any) T {
	t.Helper()
	var v T
	if err := db.QueryRow(query, args...).Scan(&v); err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return v
}

func column[T any](t testing.TB, db *sql.DB, query string, args ...any) []T {
	t.Helper()
	rows, err := db.Query(query, args...)
	must(t, err)
	defer rows.Close()
	var out []T
	for rows.Next() {
		var v T
		must(t, rows.Scan(&v))
		out = append(out, v)
	}
	must(t, rows.Err())
	return out
}

// filled is a base with one record of every kind.
func filled(t testing.TB) *store.Base {
	t.Helper()
	b, ctx := newBase(t), context.Background()
	id := func(i int) geo.PlaceID { return geo.PlaceID(storetest.ID(i)) }
	p, _ := storetest.FullBore(1).Position.Get()
	must(t, b.SaveBore(ctx, storetest.FullBore(1), me))
	must(t, b.SaveBore(ctx, storetest.BareBore(2), me))
	must(t, b.SaveVillage(ctx, geo.Village{ID: geo.VillageID(id(3)), Name: "Ho", Position: p}, me))
	must(t, b.SaveWaterPoint(ctx, geo.WaterPoint{ID: geo.WaterPointID(id(4)), Position: p, Visits: []geo.Visit{{On: geo.Date{Year: 2020}}}}, me))
	must(t, b.SaveBoundary(ctx, geo.Boundary{ID: id(5), Name: "A", Shape: orb.MultiPolygon{{{{-1, -2}, {3, -2}, {3, 4}, {-1, -2}}}}}, me))
	must(t, b.SaveBoundary(ctx, geo.Boundary{ID: id(6), Name: "nothing yet"}, me))
	must(t, b.SaveRiver(ctx, geo.River{ID: id(7), Line: orb.LineString{{0, 0}, {1, -5}}}, me))
	return b
}

// Each check names its requirement of OGC 12-128r18, GeoPackage 1.3.
func TestFileIsAGeoPackage(t *testing.T) {
	b := filled(t)
	db := raw(t, b.Path())

	first := make([]byte, 72)
	f, err := os.Open(b.Path())
	must(t, err)
	defer f.Close()
	_, err = f.Read(first)
	must(t, err)
	if string(first[:16]) != "SQLite format 3\x00" {
		t.Error("Requirement 1: the SQLite header")
	}
	// SQLite file format 1.3: application id at offset 68, user version at 60.
	if binary.BigEndian.Uint32(first[68:]) != 0x47504B47 || binary.BigEndian.Uint32(first[60:]) != 10300 {
		t.Error("Requirement 2: application_id GPKG and user_version 10300")
	}
	if filepath.Ext(store.Folder("x").Ground()) != ".gpkg" {
		t.Error("Requirement 3: the file extension")
	}
	allowed := []string{"BOOLEAN", "TINYINT", "SMALLINT", "MEDIUMINT", "INT", "INTEGER", "FLOAT", "DOUBLE", "REAL", "TEXT", "BLOB", "DATE", "DATETIME", "POINT", "LINESTRING", "MULTIPOLYGON"}
	for _, kind := range column[string](t, db, `SELECT DISTINCT c.type FROM gpkg_contents g, pragma_table_info(g.table_name) c`) {
		if !slices.Contains(allowed, kind) {
			t.Errorf("Requirement 5: column type %q", kind)
		}
	}
	if got := scalar[string](t, db, "PRAGMA integrity_check"); got != "ok" {
		t.Errorf("Requirement 6: integrity_check %s", got)
	}
	if got := scalar[int](t, db, "SELECT count(*) FROM pragma_foreign_key_check"); got != 0 {
		t.Errorf("Requirement 7: %d foreign keys lead nowhere", got)
	}
	srs := column[string](t, db, "SELECT srs_id || ' ' || lower(organization) || ' ' || organization_coordsys_id || ' ' || (definition = 'undefined') FROM gpkg_spatial_ref_sys ORDER BY srs_id")
	if !slices.Equal(srs, []string{"-1 none -1 1", "0 none 0 1", "4326 epsg 4326 0"}) {
		t.Errorf("Requirements 10, 11: reference systems %v", srs)
	}
	requireColumns(t, db)
	requireContents(t, db)
}

// The table definitions of annex C of the standard, as name type notnull pk.
func requireColumns(t *testing.T, db *sql.DB) {
	t.Helper()
	for table, want := range map[string][]string{
		"gpkg_spatial_ref_sys":  {"srs_name TEXT 1 0", "srs_id INTEGER 0 1", "organization TEXT 1 0", "organization_coordsys_id INTEGER 1 0", "definition TEXT 1 0", "description TEXT 0 0"},                                                                    // Requirement 10
		"gpkg_contents":         {"table_name TEXT 1 1", "data_type TEXT 1 0", "identifier TEXT 0 0", "description TEXT 0 0", "last_change DATETIME 1 0", "min_x DOUBLE 0 0", "min_y DOUBLE 0 0", "max_x DOUBLE 0 0", "max_y DOUBLE 0 0", "srs_id INTEGER 0 0"}, // Requirement 13
		"gpkg_geometry_columns": {"table_name TEXT 1 1", "column_name TEXT 1 2", "geometry_type_name TEXT 1 0", "srs_id INTEGER 1 0", "z TINYINT 1 0", "m TINYINT 1 0"},                                                                                         // Requirement 21
		"gpkg_extensions":       {"table_name TEXT 0 0", "column_name TEXT 0 0", "extension_name TEXT 1 0", "definition TEXT 1 0", "scope TEXT 1 0"},                                                                                                            // Requirement 58
	} {
		got := column[string](t, db, `SELECT name || ' ' || type || ' ' || "notnull" || ' ' || pk FROM pragma_table_info(?)`, table)
		if !slices.Equal(got, want) {
			t.Errorf("annex C: %s is %v", table, got)
		}
	}
}

func requireContents(t *testing.T, db *sql.DB) {
	t.Helper()
	features := column[string](t, db, "SELECT table_name FROM gpkg_contents WHERE data_type = 'features' ORDER BY 1")
	if !slices.Equal(features, []string{"bore", "boundary", "river", "siting", "village", "water_point"}) {
		t.Errorf("Requirement 18: feature layers %v", features)
	}
	attributes := column[string](t, db, "SELECT table_name FROM gpkg_contents WHERE data_type = 'attributes' ORDER BY 1")
	if !slices.Equal(attributes, []string{"fill", "layer", "level", "nearby", "pipe", "sample", "strike", "test", "test_reading", "visit"}) {
		t.Errorf("Requirement 118: attribute tables %v", attributes)
	}
	for clause, query := range map[string]string{
		"Requirement 14: a registered table is missing":                   "SELECT count(*) FROM gpkg_contents WHERE table_name NOT IN (SELECT name FROM sqlite_master WHERE type = 'table')",
		"Requirement 15: last_change is no DATETIME":                      "SELECT count(*) FROM gpkg_contents WHERE last_change NOT GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9].[0-9][0-9][0-9]Z'",
		"Requirement 16, 12: an unknown srs_id":                           "SELECT count(*) FROM gpkg_contents WHERE srs_id NOT IN (SELECT srs_id FROM gpkg_spatial_ref_sys)",
		"Requirement 22: a layer without its geometry column":             "SELECT count(*) FROM gpkg_contents WHERE data_type = 'features' AND table_name NOT IN (SELECT table_name FROM gpkg_geometry_columns)",
		"Requirement 23: a geometry column of no layer":                   "SELECT count(*) FROM gpkg_geometry_columns WHERE table_name NOT IN (SELECT table_name FROM gpkg_contents WHERE data_type = 'features')",
		"Requirements 24, 31: geometry column missing or otherwise typed": "SELECT count(*) FROM gpkg_geometry_columns g WHERE NOT EXISTS (SELECT 1 FROM pragma_table_info(g.table_name) c WHERE c.name = g.column_name AND c.type = g.geometry_type_name)",
		"Requirement 25: an unknown geometry type":                        "SELECT count(*) FROM gpkg_geometry_columns WHERE geometry_type_name NOT IN ('GEOMETRY','POINT','LINESTRING','POLYGON','MULTIPOINT','MULTILINESTRING','MULTIPOLYGON','GEOMETRYCOLLECTION')",
		"Requirements 26, 146: srs_id differs from the contents'":         "SELECT count(*) FROM gpkg_geometry_columns g JOIN gpkg_contents c USING (table_name) WHERE g.srs_id <> c.srs_id",
		"Requirements 27, 28: z and m":                                    "SELECT count(*) FROM gpkg_geometry_columns WHERE z <> 0 OR m <> 0",
		"Requirement 30: more than one geometry column":                   "SELECT count(*) FROM (SELECT 1 FROM gpkg_geometry_columns GROUP BY table_name HAVING count(*) > 1)",
		"Requirements 29, 119, 150: primary key is no rowid alias":        "SELECT count(*) FROM gpkg_contents g WHERE (SELECT group_concat(name || ' ' || type) FROM pragma_table_info(g.table_name) WHERE pk > 0) <> 'fid INTEGER'",
		"Requirement 59: a private table that no extension names":         "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'gpkg_%' AND name NOT LIKE 'sqlite_%' AND name NOT IN (SELECT table_name FROM gpkg_contents) AND name NOT IN (SELECT table_name FROM gpkg_extensions)",
		"Requirement 62: extension name":                                  "SELECT count(*) FROM gpkg_extensions WHERE extension_name NOT GLOB '[a-zA-Z0-9]*_[a-zA-Z0-9_]*'",
		"Requirement 64: extension scope":                                 "SELECT count(*) FROM gpkg_extensions WHERE scope NOT IN ('read-write', 'write-only')",
	} {
		if n := scalar[int](t, db, query); n != 0 {
			t.Errorf("%s (%d)", clause, n)
		}
	}
}

// Requirement 19 and its table: the geometry blobs, read by hand.
func TestGeometryBlobs(t *testing.T) {
	b := filled(t)
	db := raw(t, b.Path())
	for _, c := range []struct {
		name, query string
		flags       byte
		envelope    []float64 // min x, max x, min y, max y
		wkbType     uint32    // OGC 06-103r4 table 7
	}{
		{"point", "SELECT geom FROM bore WHERE code IS NOT NULL", 0b0000_0001, nil, 1},
		{"area", "SELECT geom FROM boundary WHERE name = 'A'", 0b0000_0011, []float64{-1, 3, -2, 4}, 6},
		{"empty area", "SELECT geom FROM boundary WHERE name = 'nothing yet'", 0b0001_0001, nil, 6}, // Requirement 149
		{"line", "SELECT geom FROM river", 0b0000_0011, []float64{0, 1, -5, 0}, 2},
	} {
		blob := scalar[[]byte](t, db, c.query)
		if string(blob[:2]) != "GP" || blob[2] != 0 || blob[3] != c.flags || binary.LittleEndian.Uint32(blob[4:]) != 4326 { // Requirement 33
			t.Errorf("%s: header % x", c.name, blob[:8])
		}
		body := blob[8:]
		for _, want := range c.envelope {
			if got := math.Float64frombits(binary.LittleEndian.Uint64(body)); got != want {
				t.Errorf("%s: envelope %v, want %v", c.name, got, want)
			}
			body = body[8:]
		}
		if body[0] != 1 || binary.LittleEndian.Uint32(body[1:]) != c.wkbType { // Requirements 20, 32
			t.Errorf("%s: WKB starts % x", c.name, body[:5])
		}
	}
	if n := scalar[int](t, db, "SELECT count(*) FROM bore WHERE geom IS NULL"); n != 1 {
		t.Errorf("%d bores without a geometry, want the one without a position", n)
	}
	// Requirement 148: geometries lie within the extent of their layer.
	want := []string{"-1.0 -2.0 3.0 4.0", "0.0 -5.0 1.0 0.0"}
	if got := column[string](t, db, "SELECT min_x || ' ' || min_y || ' ' || max_x || ' ' || max_y FROM gpkg_contents WHERE table_name IN ('boundary', 'river') ORDER BY table_name"); !slices.Equal(got, want) {
		t.Errorf("Requirement 148: extents %v", got)
	}
}
