package store_test

import (
	"database/sql"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"

	"github.com/paulmach/orb"
)

// database begins a file of others' making and returns what runs statements on it.
func database(t *testing.T, path string) (run func(text string, args ...any)) {
	t.Helper()
	file, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	return func(text string, args ...any) {
		t.Helper()
		if _, err := file.Exec(text, args...); err != nil {
			t.Fatal(err)
		}
	}
}

// pictures writes a file as the MBTiles specification 1.3 has them.
func pictures(t *testing.T, about map[string]string, tiles map[[3]int]string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "old sheet.mbtiles")
	run := database(t, path)
	run(`CREATE TABLE metadata (name text, value text)`)
	run(`CREATE TABLE tiles (zoom_level integer, tile_column integer, tile_row integer, tile_data blob)`)
	for name, value := range about {
		run(`INSERT INTO metadata VALUES (?, ?)`, name, value)
	}
	for at, body := range tiles {
		run(`INSERT INTO tiles VALUES (?, ?, ?, ?)`, at[0], at[1], at[2], []byte(body))
	}
	return path
}

const pngHead = "\x89PNG\r\n\x1a\n"

// The example of the specification: a tile is found by its row counted from the south.
func TestChart(t *testing.T) {
	path := pictures(t, map[string]string{"name": "Geology 1952", "format": "png", "bounds": "0,-1,2,1", "attribution": "Survey"},
		map[[3]int]string{{11, 327, 1256}: pngHead + "a", {3, 0, 0}: pngHead + "b", {3, 1, 0}: "<html>"})
	c, err := store.OpenChart(path)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if c.Name != "Geology 1952" || c.Attribution != "Survey" || c.Least != 3 || c.Most != 11 || c.Bound != (orb.Bound{Min: orb.Point{0, -1}, Max: orb.Point{2, 1}}) {
		t.Errorf("%+v", c)
	}
	// Specification 1.3, Tiles: 11/327/791 stands in row 1256, since 1256 is 2^11 - 1 - 791.
	if body, media, err := c.Picture(t.Context(), 11, 327, 791); err != nil || string(body) != pngHead+"a" || media != "image/png" {
		t.Errorf("%q, %s, %v", body, media, err)
	}
	for _, none := range [][3]int{{11, 327, 1256}, {3, 1, 7}, {3, 0, 8}, {-1, 0, 0}, {31, 0, 0}} {
		if _, _, err := c.Picture(t.Context(), none[0], none[1], none[2]); geo.KindOf(err) != geo.NotFound {
			t.Errorf("%v: %v", none, err)
		}
	}
}

func TestChartsRefused(t *testing.T) {
	whole := map[[3]int]string{{0, 0, 0}: pngHead}
	for name, path := range map[string]string{
		"vector": pictures(t, map[string]string{"format": "pbf"}, whole),
		"silent": pictures(t, nil, whole),
		"empty":  pictures(t, map[string]string{"format": "png"}, nil),
		"text":   filepath.Join(t.TempDir(), "text.mbtiles"),
	} {
		if name == "text" {
			if err := os.WriteFile(path, []byte("no tiles here"), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := store.OpenChart(path); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := store.OpenChart(filepath.Join(t.TempDir(), "none.mbtiles")); geo.KindOf(err) != geo.NotFound {
		t.Errorf("no file: %v", err)
	}
	// A name and bounds that cannot be used fall back to the file's name and the whole map.
	c, err := store.OpenChart(pictures(t, map[string]string{"format": "jpg", "bounds": "9,9,1,1"}, whole))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if c.Name != "old sheet" || c.Bound.Max[0] != 180 {
		t.Errorf("%+v", c)
	}
}
