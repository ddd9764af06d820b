package ui_test

import (
	"bytes"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waterstrike/ui"
	"waterstrike/ui/draw"
)

var update = flag.Bool("update", false, "write the sheet of signs anew")

// The sheet of signs that pages and the map cut from is what the drawings draw, and the
// style sheet knows each of its columns.
func TestSheetOfSigns(t *testing.T) {
	scene, err := draw.Signs()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := scene.WriteSVG(&b); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(filepath.Join("static", "mapsigns.svg"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := fs.ReadFile(ui.Static(), "mapsigns.svg")
	if err != nil || !bytes.Equal(have, b.Bytes()) && !*update {
		t.Errorf("static/mapsigns.svg is not what draw.Signs draws (%v): go test ./ui -update", err)
	}
	styles, script := read(t, ui.Static(), "css/atlas.css"), read(t, ui.Static(), "js/map/signs.js")
	for _, key := range draw.SignKeys() {
		if key != draw.PointBroken && key != draw.PointUnknown && !strings.Contains(styles, ".mapsign."+key+" ") {
			t.Errorf("atlas.css does not place the sign %s", key)
		}
	}
	if list := `["` + strings.Join(draw.SignKeys(), `", "`) + `"]`; !strings.Contains(script, list) {
		t.Errorf("signs.js has not the columns %s", list)
	}
}
