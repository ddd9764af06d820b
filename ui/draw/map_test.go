package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

func tinyMap() (draw.MapData, draw.MapOptions) {
	d := draw.MapData{
		Bores:    []draw.MapBore{{At: draw.Point{X: 0, Y: 0}, Outcome: "producing", Label: "B1"}, {At: draw.Point{X: 1000, Y: 500}, Outcome: "producing"}},
		Villages: []draw.MapVillage{{At: draw.Point{X: 300, Y: 900}, Name: "Anse"}},
		Rivers:   [][]draw.Point{{{0, 200}, {1000, 300}}},
		Boundary: [][]draw.Point{{{-100, -100}, {1100, -100}, {1100, 1000}}},
		Site:     &draw.Point{X: 500, Y: 500},
	}
	return d, draw.MapOptions{WidthMM: 90, HeightMM: 90, ID: "m-", Title: "Map", Desc: "two bores", North: "N"}
}

// discs returns the centres of the producing bores, in the order given.
func discs(s draw.Scene) []draw.Point {
	var out []draw.Point
	for _, it := range s.Items {
		if g, ok := it.(draw.Group); ok {
			for _, it := range g.Items {
				if c, ok := it.(draw.Circle); ok && c.Fill.Color == "#1769aa" {
					out = append(out, c.Center)
				}
			}
		}
	}
	return out
}

func TestMapIsToScaleAndNorthUp(t *testing.T) {
	s, err := draw.Map(tinyMap())
	if err != nil {
		t.Fatal(err)
	}
	p := discs(s)
	dx, dy := p[1].X-p[0].X, p[0].Y-p[1].Y // paper runs downwards
	const tol = 1e-9                       // mm, double rounding
	if dx <= 0 || math.Abs(dy-dx/2) > tol {
		t.Errorf("1000 m east is %v mm to the right, 500 m north is %v mm upwards", dx, dy)
	}
	var bar float64
	for _, r := range rects(s.Items)[""] {
		if r.HeightMM == 0.8 {
			bar += r.WidthMM
		}
	}
	const barM = 500.0 // the label, checked in TestMapDocument
	if math.Abs(bar-dx*barM/1000) > tol {
		t.Errorf("the scale bar is %v mm, want %v for %v m", bar, dx*barM/1000, barM)
	}
}

func TestMapDocument(t *testing.T) {
	s, err := draw.Map(tinyMap())
	if err != nil {
		t.Fatal(err)
	}
	doc := svg(t, s)
	checkDocument(t, doc)
	got := strings.Join(words(t, doc), "|")
	for _, want := range []string{"Map|two bores", "|B1|", "|Anse|", "|500\u00a0m|", "|N|", "|outcome.producing|", "|site|", "|village|", "|river|", "|boundary"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in %q", want, got)
		}
	}
}

func TestMapOfOnePoint(t *testing.T) {
	_, o := tinyMap()
	o.Distance = func(m float64) string { return fmt.Sprintf("%v metres", m) }
	s, err := draw.Map(draw.MapData{Site: &draw.Point{X: 5, Y: 5}}, o)
	if err != nil {
		t.Fatal(err)
	}
	if doc := svg(t, s); !strings.Contains(doc, " metres<") {
		t.Error("the scale bar is not written by the caller's function")
	}
}

func TestMapRefuses(t *testing.T) {
	tests := []struct {
		name   string
		change func(d *draw.MapData, o *draw.MapOptions)
		want   string
	}{
		{"nothing", func(d *draw.MapData, _ *draw.MapOptions) { *d = draw.MapData{} }, "nothing to draw"},
		{"unknown outcome", func(d *draw.MapData, _ *draw.MapOptions) { d.Bores[0].Outcome = "lost" }, "lost"},
		{"not a number", func(d *draw.MapData, _ *draw.MapOptions) { d.Bores[0].At.X = math.NaN() }, "finite"},
		{"no room", func(_ *draw.MapData, o *draw.MapOptions) { o.HeightMM = 20 }, "too small"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, o := tinyMap()
			tt.change(&d, &o)
			_, err := draw.Map(d, o)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v; want an error with %q", err, tt.want)
			}
		})
	}
}

// No two outcomes may share a shape: compare the marks with their colours taken away.
func TestOutcomesDifferInShape(t *testing.T) {
	seen := map[string]string{}
	for _, outcome := range draw.Outcomes() {
		_, o := tinyMap()
		s, err := draw.Map(draw.MapData{Bores: []draw.MapBore{{Outcome: outcome}}}, o)
		if err != nil {
			t.Fatal(err)
		}
		shape := ""
		for _, it := range s.Items {
			if g, ok := it.(draw.Group); ok {
				shape = outline(g.Items)
			}
		}
		if other, ok := seen[shape]; ok || shape == "" {
			t.Errorf("%s has the shape of %q", outcome, other)
		}
		seen[shape] = outcome
	}
}

func outline(items []draw.Item) string {
	var b strings.Builder
	for _, it := range items {
		switch it := it.(type) {
		case draw.Circle:
			fmt.Fprintf(&b, "circle %.3f;", it.RadiusMM)
		case draw.Path:
			fmt.Fprintf(&b, "path %.3v;", it.Points)
		}
	}
	return b.String()
}
