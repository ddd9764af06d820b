package draw_test

import (
	"bytes"
	"encoding/xml"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

var update = flag.Bool("update", false, "write the golden files anew")

func svg(t testing.TB, s draw.Scene) string {
	t.Helper()
	var b bytes.Buffer
	if err := s.WriteSVG(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// words parses a document and returns its character data in order, without blank runs.
func words(t testing.TB, doc string) []string {
	t.Helper()
	var out []string
	d := xml.NewDecoder(strings.NewReader(doc))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatalf("not valid XML: %v\n%s", err, doc)
		}
		if text, ok := token.(xml.CharData); ok && strings.TrimSpace(string(text)) != "" {
			out = append(out, string(text))
		}
	}
}

func golden(t *testing.T, name string, s draw.Scene) {
	t.Helper()
	got, path := svg(t, s), filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run with -update if this is meant, and look at the picture\n%s", path, got)
	}
}

// everything uses each kind of item once.
func everything() draw.Scene {
	black := draw.Stroke{Color: "#000000", WidthMM: 0.5, Dash: []float64{2, 1}}
	return draw.Scene{
		WidthMM: 40, HeightMM: 20, ID: "a-", Title: "A & B", Desc: "all <items>",
		Items: []draw.Item{
			draw.Rect{X: 1, Y: 1, WidthMM: 10, HeightMM: 8, Fill: draw.Fill{Color: "#eeeeee", Pattern: "clay"}, Stroke: black},
			draw.Path{Points: []draw.Point{{1.23456, 2}, {-0.0001, 3}}, Stroke: black},
			draw.Group{Title: "hole", Clip: []draw.Point{{0, 0}, {5, 0}, {5, 5}}, Items: []draw.Item{
				draw.Circle{Center: draw.Point{X: 2, Y: 2}, RadiusMM: 1, Fill: draw.Fill{Color: "#ff0000", Pattern: "clay"}},
			}},
			draw.Text{At: draw.Point{X: 3, Y: 15}, Words: `"<1 %" & more`, SizeMM: 3, Anchor: draw.Middle, Rotate: -90, Bold: true, Halo: true},
		},
	}
}

func TestGoldenEverything(t *testing.T) { golden(t, "everything.svg", everything()) }

func TestWriteSVGIsValidAndRepeatable(t *testing.T) {
	doc := svg(t, everything())
	got := strings.Join(words(t, doc), "|")
	if want := `A & B|all <items>|hole|"<1 %" & more`; got != want {
		t.Errorf("got words %q, want %q", got, want)
	}
	if again := svg(t, everything()); again != doc {
		t.Error("the same scene gave other bytes")
	}
}

// checkDocument holds what every document must keep: valid XML, names used once and
// defined, no style attribute (a strict content security policy drops them).
func checkDocument(t *testing.T, doc string) {
	t.Helper()
	words(t, doc)
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(doc, -1) {
		if ids[m[1]] {
			t.Errorf("id %q stands twice", m[1])
		}
		ids[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`url\(#([^)]*)\)`).FindAllStringSubmatch(doc, -1) {
		if !ids[m[1]] {
			t.Errorf("url(#%s) is not defined", m[1])
		}
	}
	if strings.Contains(doc, "style=") || strings.Contains(doc, "NaN") || strings.Contains(doc, `"-0"`) {
		t.Error("a style attribute, NaN or -0 in the document")
	}
}

func TestWriteSVGRefuses(t *testing.T) {
	sheet := func(items ...draw.Item) draw.Scene {
		return draw.Scene{WidthMM: 10, HeightMM: 10, Items: items}
	}
	tests := []struct {
		name  string
		scene draw.Scene
		want  string
	}{
		{"no size", draw.Scene{WidthMM: 10}, "above 0"},
		{"width not a number", draw.Scene{WidthMM: math.NaN(), HeightMM: 1}, "above 0"},
		{"coordinate not a number", sheet(draw.Circle{Center: draw.Point{X: math.NaN()}}), "finite"},
		{"infinite point", sheet(draw.Path{Points: []draw.Point{{math.Inf(1), 0}}}), "finite"},
		{"unknown pattern", sheet(draw.Rect{Fill: draw.Fill{Pattern: "cheese"}}), `no soil class "cheese"`},
		{"blank in the id", draw.Scene{WidthMM: 1, HeightMM: 1, ID: "a b"}, "hyphens"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var b bytes.Buffer
			err := tt.scene.WriteSVG(&b)
			if err == nil || !strings.Contains(err.Error(), tt.want) || b.Len() != 0 {
				t.Errorf("got %v and %d bytes; want an error with %q and none", err, b.Len(), tt.want)
			}
		})
	}
}

func FuzzWords(f *testing.F) {
	for _, s := range []string{"plain", `<a href="x">&amp;</a>`, "]]>", "\x00\ufffe", "é\u202f%"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) > 1000 {
			return
		}
		scene := draw.Scene{WidthMM: 1, HeightMM: 1, Title: s, Items: []draw.Item{draw.Text{Words: "x" + s, SizeMM: 1}}}
		got := words(t, svg(t, scene))
		// Characters that XML 1.0 does not allow come back as U+FFFD; all others as they were.
		clean := strings.Map(func(r rune) rune {
			if r == '\t' || r == '\n' || r == '\r' || (r >= 0x20 && r != 0xfffe && r != 0xffff) {
				return r
			}
			return '\ufffd'
		}, strings.ToValidUTF8(s, "\ufffd"))
		last := got[len(got)-1]
		if strings.ToValidUTF8(s, "") == s && last != "x"+clean {
			t.Errorf("wrote %q, read back %q", s, last)
		}
	})
}
