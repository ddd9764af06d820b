package draw_test

import (
	"math"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

func tinySection() (draw.SectionData, draw.SectionOptions) {
	d := draw.SectionData{
		Layers: []draw.SectionLayer{{Class: "sand", Outline: []draw.Point{{0, 10}, {100, 12}, {100, 2}, {0, 2}}}},
		Ground: []draw.Point{{0, 10}, {100, 12}},
		Water:  []draw.SectionLine{{Key: "dry-low", Points: []draw.Point{{0, 6}, {100, 7}}}},
		Bores:  []draw.SectionBore{{X: 50, TopElev: 11, BaseElev: 3, Outcome: "producing", Label: "B1"}},
	}
	return d, draw.SectionOptions{
		WidthMM: 100, HeightMM: 80, ID: "s-", Title: "Section", Desc: "one layer of sand",
		DistanceLabel: "Distance (m)", ElevLabel: "Elevation (m)", Words: map[string]string{"ground": "Ground"},
	}
}

func TestSectionDocument(t *testing.T) {
	s, err := draw.Section(tinySection())
	if err != nil {
		t.Fatal(err)
	}
	doc := svg(t, s)
	checkDocument(t, doc)
	got := strings.Join(words(t, doc), "|")
	for _, want := range []string{"Section|one layer of sand", "|B1|", "|Distance (m)|", "|class.sand|", "|Ground|", "|water.dry-low|", "|outcome.producing"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in %q", want, got)
		}
	}
}

// The bore's stick must stand between ground and foot on the same scale as the layer.
func TestSectionIsToScale(t *testing.T) {
	d, o := tinySection()
	d.Bores[0].TopElev, d.Bores[0].BaseElev = 10, 2 // as the layer's left edge
	s, err := draw.Section(d, o)
	if err != nil {
		t.Fatal(err)
	}
	var edge, stick float64
	for _, it := range s.Items {
		switch it := it.(type) {
		case draw.Group:
			p := it.Items[0].(draw.Path).Points
			edge = p[3].Y - p[0].Y
		case draw.Path:
			if it.Stroke.WidthMM == 1.3 { // the stick's white rim
				stick = it.Points[1].Y - it.Points[0].Y
			}
		}
	}
	const tol = 1e-9 // mm, double rounding
	if edge <= 0 || math.Abs(edge-stick) > tol {
		t.Errorf("8 m are %v mm in the layer and %v mm in the bore", edge, stick)
	}
}

func TestSectionRefuses(t *testing.T) {
	tests := []struct {
		name   string
		change func(d *draw.SectionData, o *draw.SectionOptions)
		want   string
	}{
		{"no ground", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Ground = nil }, "ground line"},
		{"no length", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Ground[1].X = 0 }, "no length"},
		{"open layer", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Layers[0].Outline = d.Ground }, "needs 3"},
		{"unknown class", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Layers[0].Class = "cheese" }, "cheese"},
		{"unknown outcome", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Bores[0].Outcome = "lost" }, "lost"},
		{"unknown water line", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Water[0].Key = "tide" }, "tide"},
		{"water of one point", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Water[0].Points = d.Ground[:1] }, "at least 2"},
		{"not a number", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Ground[0].Y = math.NaN() }, "finite"},
		{"column outside", func(d *draw.SectionData, _ *draw.SectionOptions) {
			d.Columns = []draw.SectionColumn{{X: -1, Layers: []draw.ColumnLayer{{BaseM: 1}}}}
		}, "along a section"},
		{"a column's layer upside down", func(d *draw.SectionData, _ *draw.SectionOptions) {
			d.Columns = []draw.SectionColumn{{X: 1, Layers: []draw.ColumnLayer{{TopM: 2, BaseM: 1}}}}
		}, "below its top"},
		{"a log of no class", func(d *draw.SectionData, _ *draw.SectionOptions) {
			d.Bores[0].Layers = []draw.ColumnLayer{{BaseM: 1, Odds: []draw.Odds{{Class: "cheese", Share: 1}}}}
		}, "cheese"},
		{"bore outside", func(d *draw.SectionData, _ *draw.SectionOptions) { d.Bores[0].X = 101 }, "along a section"},
		{"no room", func(_ *draw.SectionData, o *draw.SectionOptions) { o.WidthMM = 20 }, "too small"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, o := tinySection()
			tt.change(&d, &o)
			_, err := draw.Section(d, o)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v; want an error with %q", err, tt.want)
			}
		})
	}
}

// A log and a column stand on the scale of the frame, and the range of a water level too.
func TestSectionColumnsAreToScale(t *testing.T) {
	d, o := tinySection()
	layers := []draw.ColumnLayer{{TopM: 0, BaseM: 8, Odds: []draw.Odds{{Class: "clay", Share: 0.25}, {Class: "sand", Share: 0.75}}}}
	d.Columns = []draw.SectionColumn{{X: 20, TopElev: 10, Layers: layers}, {X: 80, TopElev: 10, Layers: layers}}
	d.Bores = []draw.SectionBore{{X: 50, TopElev: 10, BaseElev: 2, Layers: layers, Outcome: "dry"}}
	d.Water[0].Ranges = []draw.SectionRange{{X: 20, LoElev: 2, HiElev: 10}}
	s, err := draw.Section(d, o)
	if err != nil {
		t.Fatal(err)
	}
	inside := s.Items[1].(draw.Group).Items
	edge := inside[0].(draw.Path).Points
	want := edge[3].Y - edge[0].Y // 8 m at the layer's left edge
	var rects []draw.Rect
	bars := 0
	for _, it := range append(inside, s.Items...) {
		switch it := it.(type) {
		case draw.Rect:
			if it.Fill.Pattern != "" && it.Stroke.WidthMM < 0.2 { // not the legend's
				rects = append(rects, it)
			}
		case draw.Path:
			p := it.Points
			if len(p) == 2 && p[0].X == p[1].X && math.Abs(p[0].Y-p[1].Y-want) < 1e-9 {
				bars++
			}
		}
	}
	if len(rects) != 6 || bars == 0 {
		t.Fatalf("%d shares drawn, want 2 columns and a log of 2 each; %d range bars", len(rects), bars)
	}
	for i, r := range rects {
		if math.Abs(r.HeightMM-want) > 1e-9 { // mm, double rounding
			t.Errorf("8 m are %v mm, want %v", r.HeightMM, want)
		}
		if i%2 == 1 && math.Abs(r.WidthMM-3*rects[i-1].WidthMM) > 1e-9 {
			t.Errorf("odds of 1 to 3 are %v to %v mm wide", rects[i-1].WidthMM, r.WidthMM)
		}
	}
	if !(rects[4].WidthMM < rects[0].WidthMM) {
		t.Error("a log is not told from what is expected by its width")
	}
}

// Names of bores that stand close to each other must not cover one another; where more
// crowd than there is room for, some are left out.
func TestSectionNamesKeepApart(t *testing.T) {
	for bores, least := range map[int]int{3: 3, 60: 3} {
		d, o := tinySection()
		d.Bores = nil
		for i := range bores {
			d.Bores = append(d.Bores, draw.SectionBore{X: 40 + 3*float64(i%3), TopElev: 11 - 0.3*float64(i%3), BaseElev: 3, Outcome: "dry", Label: "BORE-X"})
		}
		told := -1
		o.Unnamed = func(n int) string { told = n; return "left out" }
		s, err := draw.Section(d, o)
		if err != nil {
			t.Fatal(err)
		}
		var names []draw.Point
		said := false
		for _, it := range s.Items {
			text, ok := it.(draw.Text)
			if ok && text.Words == "BORE-X" {
				names = append(names, text.At)
			}
			said = said || ok && text.Words == "left out"
		}
		if lacking := bores - len(names); said != (lacking > 0) || said && told != lacking {
			t.Errorf("%d of %d names are left out, told %d (%v)", lacking, bores, told, said)
		}
		for i, a := range names {
			for _, b := range names[:i] {
				if math.Abs(a.Y-b.Y) < 2.6 && math.Abs(a.X-b.X) < 6*0.56*2.6 { // size and estimated width of the type
					t.Errorf("names at %v and %v cover one another", a, b)
				}
			}
		}
		if len(names) < least || len(names) > bores {
			t.Errorf("%d names of %d bores", len(names), bores)
		}
	}
}

// Browsers print a shape with marks slowly, about a tenth of a second and 150 kB each
// (measured, Chromium): a section must not have one for every cell and layer. Drawn are
// 30 columns of 40 cells of 3 classes, and 40 bores of 3 layers 4 mm apart.
func TestSectionHasFewShapesWithMarks(t *testing.T) {
	d, o := tinySection()
	d.Layers, d.Bores = nil, nil
	classes := []string{"clay", "sand", "rock"}
	var cells, log []draw.ColumnLayer
	for i := range 40 {
		layer := draw.ColumnLayer{TopM: 0.2 * float64(i), BaseM: 0.2 * float64(i+1)}
		for k, class := range classes {
			layer.Odds = append(layer.Odds, draw.Odds{Class: class, Share: float64(1+(i+k)%3) / 6})
		}
		cells = append(cells, layer)
	}
	for i, class := range classes {
		log = append(log, draw.ColumnLayer{TopM: float64(i), BaseM: float64(i + 1), Odds: one(class)})
	}
	o.WidthMM = 220
	for i := range 40 {
		x := 2.5 * float64(i)
		d.Bores = append(d.Bores, draw.SectionBore{X: x, TopElev: 10, BaseElev: 2, Outcome: "dry", Layers: log})
		if i < 30 {
			d.Columns = append(d.Columns, draw.SectionColumn{X: x, TopElev: 10, Layers: cells})
		}
	}
	s, err := draw.Section(d, o)
	if err != nil {
		t.Fatal(err)
	}
	doc := svg(t, s)
	if n, most := strings.Count(doc, `fill="url(#`), 3*len(classes); n > most { // columns, bores and legend
		t.Errorf("%d shapes bear marks, want at most %d", n, most)
	}
	// Each cell and layer is there twice: once in its colour, once with its marks.
	if n, want := strings.Count(doc, "zM")+strings.Count(doc, `z"`), 2*(30*40*3+40*3); n != want {
		t.Errorf("%d cells and layers are drawn, want %d", n, want)
	}
}
