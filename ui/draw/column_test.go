package draw_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

func one(class string) []draw.Odds { return []draw.Odds{{Class: class, Share: 1}} }

func tinyColumn() ([]draw.ColumnLayer, draw.ColumnOptions) {
	layers := []draw.ColumnLayer{
		{TopM: 0, BaseM: 2, Odds: one("clay"), Note: "red clay"},
		{TopM: 2, BaseM: 4, Odds: []draw.Odds{{Class: "sand-fine", Share: 0.75}, {Class: "gravel", Share: 0.25}}},
	}
	return layers, draw.ColumnOptions{
		WidthMM: 80, HeightMM: 60, ID: "tiny-", Title: "Two layers", Desc: "clay over fine sand or gravel",
		DepthLabel: "Depth (m)", OddsLabel: "Odds",
		Words:  map[string]string{"class.clay": "clay", "water.dry-low": "water"},
		Levels: []draw.ColumnLevel{{Key: "dry-low", DepthM: 3, LoM: 2.5, HiM: 3.5}},
	}
}

func TestGoldenColumn(t *testing.T) {
	s, err := draw.Column(tinyColumn())
	if err != nil {
		t.Fatal(err)
	}
	checkDocument(t, svg(t, s))
	golden(t, "column.svg", s)
}

// rects collects the filled rectangles of a scene by pattern, clipped groups included.
func rects(items []draw.Item) map[string][]draw.Rect {
	out := map[string][]draw.Rect{}
	for _, it := range items {
		switch it := it.(type) {
		case draw.Rect:
			out[it.Fill.Pattern] = append(out[it.Fill.Pattern], it)
		case draw.Group:
			for k, v := range rects(it.Items) {
				out[k] = append(out[k], v...)
			}
		}
	}
	return out
}

func TestColumnIsToScale(t *testing.T) {
	s, err := draw.Column(tinyColumn())
	if err != nil {
		t.Fatal(err)
	}
	got := rects(s.Items)
	clay, sand, gravel := got["clay"][0], got["sand-fine"][0], got["gravel"][0]
	const tol = 1e-9 // mm, double rounding
	checks := []struct {
		name      string
		got, want float64
	}{
		{"equal thickness, equal height", sand.HeightMM, clay.HeightMM},
		{"sand starts where clay ends", sand.Y, clay.Y + clay.HeightMM},
		{"gravel stands right of sand", gravel.X, sand.X + sand.WidthMM},
		{"shares fill the width", sand.WidthMM + gravel.WidthMM, clay.WidthMM},
		{"share is width", sand.WidthMM, 0.75 * clay.WidthMM},
	}
	for _, c := range checks {
		if math.Abs(c.got-c.want) > tol {
			t.Errorf("%s: got %v, want %v", c.name, c.got, c.want)
		}
	}
}

func TestColumnNamesWhatItShows(t *testing.T) {
	s, err := draw.Column(tinyColumn())
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Join(words(t, svg(t, s)), "|")
	for _, want := range []string{"|red clay|", "|clay|", "|water", "|class.sand-fine|", "|Odds|", "|Depth (m)|"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in %q", want, got)
		}
	}
	if strings.Contains(got, "class.rock") {
		t.Error("the legend lists a class that is not drawn")
	}
}

func TestColumnRefuses(t *testing.T) {
	tests := []struct {
		name   string
		change func(l []draw.ColumnLayer, o *draw.ColumnOptions) []draw.ColumnLayer
		want   string
	}{
		{"no layers", func(l []draw.ColumnLayer, _ *draw.ColumnOptions) []draw.ColumnLayer { return nil }, "at least one"},
		{"base above top", func(l []draw.ColumnLayer, _ *draw.ColumnOptions) []draw.ColumnLayer { l[0].BaseM = -1; return l }, "below its top"},
		{"depth not a number", func(l []draw.ColumnLayer, _ *draw.ColumnOptions) []draw.ColumnLayer { l[1].TopM = math.NaN(); return l }, "below its top"},
		{"unknown class", func(l []draw.ColumnLayer, _ *draw.ColumnOptions) []draw.ColumnLayer {
			l[0].Odds = one("cheese")
			return l
		}, "cheese"},
		{"shares above the whole", func(l []draw.ColumnLayer, _ *draw.ColumnOptions) []draw.ColumnLayer {
			l[1].Odds[0].Share = 0.9
			return l
		}, "more than the whole"},
		{"negative share", func(l []draw.ColumnLayer, _ *draw.ColumnOptions) []draw.ColumnLayer {
			l[1].Odds[0].Share = -0.1
			return l
		}, "share -0.1"},
		{"share not a number", func(l []draw.ColumnLayer, _ *draw.ColumnOptions) []draw.ColumnLayer {
			l[1].Odds[0].Share = math.NaN()
			return l
		}, "share NaN"},
		{"unknown level", func(l []draw.ColumnLayer, o *draw.ColumnOptions) []draw.ColumnLayer {
			o.Levels[0].Key = "tide"
			return l
		}, "tide"},
		{"level below the end", func(l []draw.ColumnLayer, o *draw.ColumnOptions) []draw.ColumnLayer { o.MaxDepthM = 2; return l }, "below the column's end"},
		{"level not a number", func(l []draw.ColumnLayer, o *draw.ColumnOptions) []draw.ColumnLayer {
			o.Levels[0].HiM = math.NaN()
			return l
		}, "finite depth"},
		{"no room", func(l []draw.ColumnLayer, o *draw.ColumnOptions) []draw.ColumnLayer { o.HeightMM = 20; return l }, "too small"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, o := tinyColumn()
			_, err := draw.Column(tt.change(l, &o), o)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v; want an error with %q", err, tt.want)
			}
		})
	}
}

func Example() {
	s, err := draw.Column(
		[]draw.ColumnLayer{{TopM: 0, BaseM: 3, Odds: []draw.Odds{{Class: "clay", Share: 1}}}},
		draw.ColumnOptions{WidthMM: 40, HeightMM: 60, Title: "Clay", DepthLabel: "Depth (m)"})
	if err != nil {
		fmt.Println(err)
		return
	}
	s.Items = s.Items[:1] // the title alone, to keep this short
	if err := s.WriteSVG(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="60mm" viewBox="0 0 40 60" role="img" aria-labelledby="title desc" font-family="sans-serif">
	// <title id="title">Clay</title>
	// <desc id="desc"></desc>
	// <text x="3" y="6.4" font-size="3.4" font-weight="bold" fill="#1f2328">Clay</text>
	// </svg>
}
