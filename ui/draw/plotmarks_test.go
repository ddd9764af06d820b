package draw_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

const white = "#ffffff"

// checkShades holds colours that follow each other: 3:1 to paper (WCAG 2.2, success
// criterion 1.4.11) and a step in lightness between neighbours, for all kinds of sight.
func checkShades(t *testing.T, colors []string, step float64) {
	t.Helper()
	for who, matrix := range dichromats {
		for i, color := range colors {
			c := linear(t, color).seenBy(matrix)
			if r := contrast(c, linear(t, white)); r < 3 {
				t.Errorf("%s: %s has contrast %.2f to paper, want 3", who, color, r)
			}
			if i == 0 {
				continue
			}
			if r := contrast(c, linear(t, colors[i-1]).seenBy(matrix)); r < step {
				t.Errorf("%s: %s and %s have contrast %.2f, want %v", who, colors[i-1], color, r, step)
			}
		}
	}
}

// curveLines are the strokes of the lines of a plot.
func curveLines(t *testing.T, s draw.Scene) []draw.Stroke {
	t.Helper()
	var out []draw.Stroke
	for _, it := range marksOf(t, s) {
		if p, ok := it.(draw.Path); ok && !p.Closed {
			out = append(out, p.Stroke)
		}
	}
	return out
}

func TestCurvesAreDistinct(t *testing.T) {
	s := made(t, curvesPlot)
	strokes := curveLines(t, s)
	if len(strokes) != 4 {
		t.Fatalf("%d lines, want 4", len(strokes))
	}
	var colors []string
	dashes, shapes := map[string]bool{}, map[string]bool{}
	for _, stroke := range strokes {
		colors = append(colors, stroke.Color)
		dashes[fmt.Sprint(stroke.Dash)] = true
		shapes[markerShape(t, s, stroke.Color)] = true
	}
	if len(dashes) != 4 || len(shapes) != 4 {
		t.Errorf("dashes %v and markers %v; want 4 different ones of each", dashes, shapes)
	}
	checkShades(t, colors, 1.3) // our own floor; dash and marker tell them apart as well
}

// markerShape is a marker without its place and colour.
func markerShape(t *testing.T, s draw.Scene, color string) string {
	t.Helper()
	for _, it := range marksOf(t, s) {
		switch it := it.(type) {
		case draw.Circle:
			if it.Fill.Color == color {
				return "disc"
			}
		case draw.Path:
			if it.Closed && it.Fill.Color == color {
				level := math.Abs(it.Points[0].Y-it.Points[1].Y) < 1e-9
				return fmt.Sprint(len(it.Points), " corners, level ", level)
			}
		}
	}
	t.Fatalf("no marker of the colour %s", color)
	return ""
}

func TestCurveNamesStandAtTheirEndsAndApart(t *testing.T) {
	s := made(t, curvesPlot)
	right := frameOf(t, s).X + frameOf(t, s).WidthMM
	var names []string
	var heights []float64
	for _, it := range s.Items {
		if text, ok := it.(draw.Text); ok && text.At.X > right && text.Halo {
			names, heights = append(names, text.Words), append(heights, text.At.Y)
		}
	}
	if want := []string{"by chance", "8 nearest bores", "distance to the nearest bore", "this advisor"}; !slices.Equal(names, want) {
		t.Fatalf("names from top to bottom: %q, want %q as the lines end", names, want)
	}
	for i := 1; i < len(heights); i++ {
		if heights[i]-heights[i-1] < 2.6 { // mm, the size of the letters
			t.Errorf("%q and %q collide", names[i-1], names[i])
		}
	}
}

func TestLongCurveNamesGoToALegend(t *testing.T) {
	o := sheetOptions("c-", "Risk", "Share", "Score")
	s, err := draw.Curves(riskCurves(), o)
	if err != nil {
		t.Fatal(err)
	}
	foot := frameOf(t, s).Y + frameOf(t, s).HeightMM
	for _, it := range s.Items {
		if text, ok := it.(draw.Text); ok && text.Words == "this advisor" && text.At.Y < foot {
			t.Error("the name stands beside the frame of a narrow sheet")
		}
	}
}

func TestDensityShades(t *testing.T) {
	var colors []string
	for _, it := range made(t, scatterPlot(10_000)).Items {
		if r, ok := it.(draw.Rect); ok && r.Fill.Color != "" {
			colors = append(colors, r.Fill.Color) // the legend, from few to many
		}
	}
	if len(colors) != 5 {
		t.Fatalf("%d shades in the legend, want 5", len(colors))
	}
	checkShades(t, colors, 1.3) // our own floor; the squares grow with the count as well
}

// down tells whether a triangle points down, and its area.
func down(p draw.Path) (bool, float64) {
	a, b, c := p.Points[0], p.Points[1], p.Points[2]
	area := math.Abs((b.X-a.X)*(c.Y-a.Y)-(c.X-a.X)*(b.Y-a.Y)) / 2
	return a.Y > (b.Y+c.Y)/2, area
}

func TestMissesTellDirectionSizeAndPlace(t *testing.T) {
	data := []draw.Miss{{XKM: 0, YKM: 0, DeeperM: 2}, {XKM: 10, YKM: 0, DeeperM: 8}, {XKM: 10, YKM: 10, DeeperM: -8}}
	s, err := draw.Misses(data, nil, missesOptions())
	if err != nil {
		t.Fatal(err)
	}
	var paths []draw.Path
	for _, it := range marksOf(t, s) {
		paths = append(paths, it.(draw.Path))
	}
	// The largest come first, in the order given: 8, -8, 2.
	first, full := down(paths[0])
	second, _ := down(paths[1])
	_, small := down(paths[2])
	if !first || second {
		t.Error("deeper must point down, shallower up")
	}
	if ratio := full / small; math.Abs(ratio-4) > 1e-9 { // double rounding
		t.Errorf("8 m have %v times the area of 2 m, want 4", ratio)
	}
	if paths[0].Fill.Color == white || paths[1].Fill.Color != white {
		t.Error("deeper must be full, shallower open")
	}
	checkShades(t, []string{paths[1].Stroke.Color, paths[0].Fill.Color}, 1.3)
	var bar float64
	for _, it := range s.Items {
		if r, ok := it.(draw.Rect); ok && r.HeightMM == 0.8 {
			bar += r.WidthMM
		}
	}
	east, south := paths[0].Points[0].X-paths[2].Points[0].X, centroid(paths[0]).Y-centroid(paths[1]).Y
	if !strings.Contains(svg(t, s), ">5\u00a0km<") || math.Abs(bar-east/2) > 1e-9 || math.Abs(south-east) > 0.2 {
		t.Errorf("10 km are %v mm east and %v mm north; the bar of 5 km %v mm", east, south, bar)
	}
}

func centroid(p draw.Path) draw.Point {
	var c draw.Point
	for _, q := range p.Points {
		c.X += q.X / float64(len(p.Points))
		c.Y += q.Y / float64(len(p.Points))
	}
	return c
}

func TestHistogramIsToScale(t *testing.T) {
	s := made(t, histogramPlot)
	got := rects(marksOf(t, s))[""]
	band, bars := got[0], got[1:]
	d := pit()
	if len(bars) != len(d.Counts) {
		t.Fatalf("%d bars for %d counts", len(bars), len(d.Counts))
	}
	perSite := band.HeightMM / (d.Hi - d.Lo)
	for i, b := range bars {
		if math.Abs(b.HeightMM-perSite*float64(d.Counts[i])) > 1e-9 { // mm, double rounding
			t.Errorf("bar %d is %v mm, want %v", i+1, b.HeightMM, perSite*float64(d.Counts[i]))
		}
	}
}

func TestCountsOfBinsDoNotCollide(t *testing.T) {
	var boxes [][]draw.Point
	s := made(t, reliabilityPlot)
	for _, it := range marksOf(t, s) {
		if text, ok := it.(draw.Text); ok {
			boxes = append(boxes, corners(text))
		}
	}
	if len(boxes) != len(bins()) {
		t.Fatalf("%d counts for %d bins", len(boxes), len(bins()))
	}
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			if a[0].X < b[1].X && b[0].X < a[1].X && a[0].Y < b[1].Y && b[0].Y < a[1].Y {
				t.Errorf("the counts at %v and %v collide", a, b)
			}
		}
	}
}

func ExampleCover() {
	fmt.Println(draw.Cover(0, 41, 4))
	// Output: [0 10 20 30 40 50]
}

func ExampleScatter() {
	s, err := draw.Scatter(nil, draw.PlotOptions{WidthMM: 60, HeightMM: 50, Title: "Said and found", Empty: "No site yet."})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := s.WriteSVG(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="50mm" viewBox="0 0 60 50" role="img" aria-labelledby="title desc" font-family="sans-serif">
	// <title id="title">Said and found</title>
	// <desc id="desc"></desc>
	// <text x="3" y="6.4" font-size="3.4" font-weight="bold" fill="#1f2328">Said and found</text>
	// <rect x="3" y="8.92" width="54" height="38.08" fill="#f4f4f2" stroke="#8a8f96" stroke-width="0.25" stroke-dasharray="1.2 0.8"/>
	// <text x="30" y="29.15" font-size="3.4" text-anchor="middle" fill="#1f2328">No site yet.</text>
	// </svg>
}
