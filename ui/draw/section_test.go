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
