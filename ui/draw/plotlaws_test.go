package draw_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

// frameOf is the box around the marks: the first open rectangle with a full line.
func frameOf(t *testing.T, s draw.Scene) draw.Rect {
	t.Helper()
	for _, it := range s.Items {
		if r, ok := it.(draw.Rect); ok && r.Fill == (draw.Fill{}) && r.Stroke.Dash == nil {
			return r
		}
	}
	t.Fatal("no frame")
	return draw.Rect{}
}

// marksOf are the items of the group that holds what is plotted.
func marksOf(t *testing.T, s draw.Scene) []draw.Item {
	t.Helper()
	for _, it := range s.Items {
		if g, ok := it.(draw.Group); ok {
			return g.Items
		}
	}
	t.Fatal("no marks")
	return nil
}

// corners are the points that tell where an item lies: centres, ends, corners; a text
// by the estimate of 0.56 of its size for each letter.
func corners(it draw.Item) []draw.Point {
	switch it := it.(type) {
	case draw.Path:
		return it.Points
	case draw.Circle:
		return []draw.Point{it.Center}
	case draw.Rect:
		return []draw.Point{{X: it.X, Y: it.Y}, {X: it.X + it.WidthMM, Y: it.Y + it.HeightMM}}
	case draw.Text:
		half := 0.56 * it.SizeMM * float64(len([]rune(it.Words))) / 2
		x := it.At.X + map[draw.Anchor]float64{"": half, draw.Start: half, draw.End: -half}[it.Anchor]
		if it.Rotate != 0 {
			return []draw.Point{{X: it.At.X, Y: it.At.Y - half}, {X: it.At.X - it.SizeMM, Y: it.At.Y + half}}
		}
		return []draw.Point{{X: x - half, Y: it.At.Y - 0.75*it.SizeMM}, {X: x + half, Y: it.At.Y}}
	}
	return nil
}

func within(p draw.Point, r draw.Rect, slack float64) bool {
	return p.X >= r.X-slack && p.X <= r.X+r.WidthMM+slack && p.Y >= r.Y-slack && p.Y <= r.Y+r.HeightMM+slack
}

func TestEveryMarkLiesInTheFrameAndAllOnTheSheet(t *testing.T) {
	for name, plot := range plots {
		t.Run(name, func(t *testing.T) {
			slack := 0.4 // mm: the feet of a bar at the edge
			if name == "curves" || name == "profile" {
				slack = 1.3 // half a marker whose point lies on the edge
			}
			s := made(t, plot)
			frame, sheet := frameOf(t, s), draw.Rect{WidthMM: s.WidthMM, HeightMM: s.HeightMM}
			for _, it := range marksOf(t, s) {
				for _, p := range corners(it) {
					if !within(p, frame, slack) {
						t.Fatalf("%#v lies at %v, outside the frame %v", it, p, frame)
					}
				}
			}
			for _, it := range s.Items {
				for _, p := range corners(it) {
					if !within(p, sheet, 0) {
						t.Errorf("%#v lies at %v, outside the sheet", it, p)
					}
				}
			}
		})
	}
}

// ticksOf reads the numbers back that stand under the frame.
func ticksOf(t *testing.T, s draw.Scene) []float64 {
	t.Helper()
	frame := frameOf(t, s)
	var out []float64
	for _, it := range s.Items {
		text, ok := it.(draw.Text)
		if !ok || text.Anchor != draw.Middle || text.At.Y > frame.Y+frame.HeightMM+5 || text.At.Y < frame.Y+frame.HeightMM {
			continue
		}
		if v, err := strconv.ParseFloat(strings.Replace(text.Words, "\u2212", "-", 1), 64); err == nil {
			out = append(out, v)
		}
	}
	return out
}

func TestAxesAreRoundAndEndOnTicks(t *testing.T) {
	for _, scale := range []float64{1e-6, 0.013, 1, 77, 4.2e5} {
		points := depths(40)
		most := 0.0
		for i := range points {
			p := &points[i]
			*p = draw.ScatterPoint{Found: scale * p.Found, Said: scale * p.Said}
			most = max(most, p.Found, p.Said)
		}
		s, err := draw.Scatter(points, sheetOptions("a-", "t", "x", "y"))
		if err != nil {
			t.Fatal(err)
		}
		ticks := ticksOf(t, s)
		if len(ticks) < 3 || ticks[0] != 0 || ticks[len(ticks)-1] < most {
			t.Errorf("scale %v: ticks %v for values from 0 to %v", scale, ticks, most)
			continue
		}
		checkRound(t, ticks)
	}
}

// One scale: the frame is square, and a point with said = found lies on its diagonal.
func TestScatterIsSquare(t *testing.T) {
	points := []draw.ScatterPoint{{Found: 3, Said: 3}, {Found: 10, Said: 20}, {Found: -2, Said: 1}}
	s, err := draw.Scatter(points, sheetOptions("a-", "t", "x", "y"))
	if err != nil {
		t.Fatal(err)
	}
	frame := frameOf(t, s)
	const tol = 1e-9 // mm, double rounding
	if math.Abs(frame.WidthMM-frame.HeightMM) > tol {
		t.Fatalf("the frame is %v by %v mm", frame.WidthMM, frame.HeightMM)
	}
	for _, it := range marksOf(t, s) {
		if c, ok := it.(draw.Circle); ok {
			right, up := c.Center.X-frame.X, frame.Y+frame.HeightMM-c.Center.Y
			if math.Abs(right-up) > tol {
				t.Errorf("3 m found and said lies %v mm to the right and %v mm up", right, up)
			}
			return
		}
	}
	t.Error("no mark")
}

func TestManyPointsStayReadableAndSmall(t *testing.T) {
	count := func(n int) (marks, bytes int) {
		s := made(t, scatterPlot(n))
		return len(marksOf(t, s)), len(svg(t, s))
	}
	if marks, _ := count(600); marks < 600 {
		t.Errorf("600 points have %d marks", marks)
	}
	// 64 kB: what the 600 single points take, our own bound.
	for _, n := range []int{601, 10_000} {
		if marks, bytes := count(n); marks > 44*44+2 || bytes > 64_000 {
			t.Errorf("%d points: %d marks, %d bytes", n, marks, bytes)
		}
	}
}

// The grades of the legend cover every count once, from 1 up.
func TestDensityGradesAreWhole(t *testing.T) {
	points := make([]draw.ScatterPoint, 0, 1000)
	for i := range 1000 {
		v := math.Floor(math.Sqrt(float64(i))) // piles of 1, 3, 5, ... 61 and 39
		points = append(points, draw.ScatterPoint{Found: v, Said: v})
	}
	o := sheetOptions("a-", "t", "x", "y")
	s, err := draw.Scatter(points, o)
	if err != nil {
		t.Fatal(err)
	}
	next := 1
	for _, word := range words(t, svg(t, s)) {
		from, to, ok := strings.Cut(strings.TrimSuffix(word, " sites per square"), "–")
		if !ok {
			continue
		}
		if from != strconv.Itoa(next) {
			t.Errorf("a grade starts at %s, want %d", from, next)
		}
		last, err := strconv.Atoi(to)
		if err != nil {
			t.Fatal(err)
		}
		next = last + 1
	}
	if next != 62 {
		t.Errorf("the grades end at %d; the largest pile has 61", next-1)
	}
}
