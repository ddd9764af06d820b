package draw_test

import (
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

// Rectangles with marks are written together where they touch, never where one covers
// another: what is painted last must stay on top.
func TestShapesWithMarksAreWrittenTogether(t *testing.T) {
	cell := func(x float64, class string) draw.Item {
		look, err := draw.LookOf(class)
		if err != nil {
			t.Fatal(err)
		}
		return draw.Rect{X: x, Y: 1, WidthMM: 2, HeightMM: 3, Fill: look.Fill(), Stroke: draw.Stroke{Color: "#000000", WidthMM: 0.1}}
	}
	tests := []struct {
		name  string
		items []draw.Item
		marks []string // the classes of the shapes with marks, in order
	}{
		{"touching", []draw.Item{cell(1, "clay"), cell(3, "sand"), cell(5, "clay")}, []string{"clay", "sand"}},
		{"covering", []draw.Item{cell(1, "clay"), cell(2, "sand"), cell(3, "clay")}, []string{"clay", "sand", "clay"}},
		{"parted by words", []draw.Item{cell(1, "clay"), draw.Text{Words: "x", SizeMM: 1}, cell(3, "clay")}, []string{"clay", "clay"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			doc := svg(t, draw.Scene{WidthMM: 10, HeightMM: 10, Items: tt.items})
			checkDocument(t, doc)
			var got []string
			for _, after := range strings.Split(doc, `fill="url(#`)[1:] {
				class, _, _ := strings.Cut(after, ")")
				got = append(got, class)
			}
			if strings.Join(got, " ") != strings.Join(tt.marks, " ") {
				t.Errorf("marks of %v, want %v", got, tt.marks)
			}
		})
	}
	doc := svg(t, draw.Scene{WidthMM: 10, HeightMM: 10, Items: tests[0].items})
	if want := `<path d="M1 1h2v3h-2zM5 1h2v3h-2z" fill="#8fa39b"/>`; !strings.Contains(doc, want) {
		t.Errorf("no %s in\n%s", want, doc)
	}
}
