package draw_test

import (
	"bytes"
	"testing"

	"waterstrike/ui/draw"

	"github.com/go-pdf/fpdf"
)

// inPDF is the text of a document that holds a scene, uncompressed.
func inPDF(t *testing.T, items ...draw.Item) (string, error) {
	t.Helper()
	doc := fpdf.New("P", "mm", "A4", "")
	doc.SetCompression(false)
	doc.AddPage()
	if err := (draw.Scene{WidthMM: 50, HeightMM: 50, Items: items}).PDF(doc, draw.Point{X: 10, Y: 10}); err != nil {
		return "", err
	}
	var out bytes.Buffer
	err := doc.Output(&out)
	return out.String(), err
}

// The marks of a soil class are put on paper one by one, clipped to their area ("W n", ISO
// 32000-1, 8.5.4): a larger area holds more of them, and each class can be drawn.
func TestMarksOnPaper(t *testing.T) {
	area := func(class string, mm float64) draw.Rect {
		return draw.Rect{X: 3, Y: 4, WidthMM: mm, HeightMM: mm, Fill: draw.Fill{Color: "#ffffff", Pattern: class}, Stroke: draw.Stroke{Color: "#000000", WidthMM: 0.2}}
	}
	for _, look := range draw.Looks() {
		small, err1 := inPDF(t, area(look.Class, 5))
		large, err2 := inPDF(t, area(look.Class, 20))
		if err1 != nil || err2 != nil || len(large) < 2*len(small)-1500 || !bytes.Contains([]byte(large), []byte("W n")) {
			t.Errorf("%s: %v, %v, %d bytes of a small area and %d of one 16 times as large", look.Class, err1, err2, len(small), len(large))
		}
	}
	if _, err := inPDF(t, area("cheese", 5)); err == nil {
		t.Error("a class that is none is drawn")
	}
}
