package draw_test

import (
	"math"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

func TestNoDataSaysSo(t *testing.T) {
	o := sheetOptions("e-", "Title", "x", "y")
	empty := map[string]func() (draw.Scene, error){
		"scatter":              func() (draw.Scene, error) { return draw.Scatter(nil, o) },
		"reliability":          func() (draw.Scene, error) { return draw.Reliability(nil, o) },
		"bins without sites":   func() (draw.Scene, error) { return draw.Reliability([]draw.ReliabilityBin{{Said: 0.5}}, o) },
		"histogram":            func() (draw.Scene, error) { return draw.Histogram(draw.HistogramData{To: 1}, o) },
		"histogram of nothing": func() (draw.Scene, error) { return draw.Histogram(draw.HistogramData{To: 1, Counts: []int{0, 0}}, o) },
		"misses":               func() (draw.Scene, error) { return draw.Misses(nil, nil, missesOptions()) },
		"curves":               func() (draw.Scene, error) { return draw.Curves([]draw.Curve{{Name: "none"}}, o) },
		"profile":              func() (draw.Scene, error) { return draw.Profile(nil, o) },
	}
	for name, plot := range empty {
		t.Run(name, func(t *testing.T) {
			doc := svg(t, made(t, plot))
			checkDocument(t, doc)
			if got := strings.Join(words(t, doc), " "); !strings.Contains(got, "No site was held back yet: there is nothing to compare.") {
				t.Errorf("got %q", got)
			}
		})
	}
}

// The least data that there can be: one value, at 0 or far from it.
func TestSingleValues(t *testing.T) {
	o := sheetOptions("e-", "Title", "x", "y")
	single := func(v float64) []draw.Curve {
		return []draw.Curve{{Name: "one", Points: []draw.Point{{X: v, Y: v}}}}
	}
	for name, plot := range map[string]func() (draw.Scene, error){
		"scatter at 0":       func() (draw.Scene, error) { return draw.Scatter(make([]draw.ScatterPoint, 1), o) },
		"all at 0, many":     func() (draw.Scene, error) { return draw.Scatter(make([]draw.ScatterPoint, 700), o) },
		"scatter below 0":    func() (draw.Scene, error) { return draw.Scatter([]draw.ScatterPoint{{-3, -2, -4, -1}}, o) },
		"one bin":            func() (draw.Scene, error) { return draw.Reliability([]draw.ReliabilityBin{{1, 1, 0, 1, 1}}, o) },
		"one count":          func() (draw.Scene, error) { return draw.Histogram(draw.HistogramData{To: 1, Counts: []int{1}}, o) },
		"no miss":            func() (draw.Scene, error) { return draw.Misses([]draw.Miss{{}}, nil, missesOptions()) },
		"curve at 0":         func() (draw.Scene, error) { return draw.Curves(single(0), o) },
		"curve far off":      func() (draw.Scene, error) { return draw.Curves(single(-7e5), o) },
		"profile of a point": func() (draw.Scene, error) { return draw.Profile(single(12), o) },
	} {
		t.Run(name, func(t *testing.T) {
			s := made(t, plot)
			checkDocument(t, svg(t, s))
			frame := frameOf(t, s)
			for _, it := range marksOf(t, s) {
				for _, p := range corners(it) {
					if !within(p, frame, 0.7) { // a bar's feet at the very edge
						t.Errorf("%#v lies outside the frame", it)
					}
				}
			}
		})
	}
}

func TestPlotsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	o := sheetOptions("e-", "Title", "x", "y")
	tiny := o
	tiny.WidthMM = 25
	point := func(x, y float64) []draw.Curve { return []draw.Curve{{Points: []draw.Point{{X: x, Y: y}}}} }
	scatter := func(p draw.ScatterPoint) (draw.Scene, error) { return draw.Scatter([]draw.ScatterPoint{p}, o) }
	bin := func(b draw.ReliabilityBin) (draw.Scene, error) {
		return draw.Reliability([]draw.ReliabilityBin{b}, o)
	}
	tests := []struct {
		name string
		plot func() (draw.Scene, error)
		want string
	}{
		{"scatter not a number", func() (draw.Scene, error) { return scatter(draw.ScatterPoint{Found: nan}) }, "point 1"},
		{"scatter infinite", func() (draw.Scene, error) { return scatter(draw.ScatterPoint{Said: inf}) }, "point 1"},
		{"range upside down", func() (draw.Scene, error) { return scatter(draw.ScatterPoint{Lo: 2, Hi: 1}) }, "point 1"},
		{"beyond all axes", func() (draw.Scene, error) { return scatter(draw.ScatterPoint{Said: 1.75e308}) }, "axis"},
		{"no room", func() (draw.Scene, error) { return draw.Scatter(depths(3), tiny) }, "too small"},
		{"no room to say nothing", func() (draw.Scene, error) { return draw.Scatter(nil, tiny) }, "too small"},
		{"share above 1", func() (draw.Scene, error) { return bin(draw.ReliabilityBin{0.5, 1.2, 0.3, 1.3, 4}) }, "bin 1"},
		{"share outside its range", func() (draw.Scene, error) { return bin(draw.ReliabilityBin{0.5, 0.5, 0.6, 0.7, 4}) }, "bin 1"},
		{"said not a number", func() (draw.Scene, error) { return bin(draw.ReliabilityBin{nan, 0.5, 0.4, 0.7, 4}) }, "bin 1"},
		{"sites below 0", func() (draw.Scene, error) { return bin(draw.ReliabilityBin{0.5, 0.5, 0.4, 0.7, -1}) }, "bin 1"},
		{"count below 0", func() (draw.Scene, error) {
			return draw.Histogram(draw.HistogramData{To: 1, Counts: []int{3, -1}}, o)
		}, "bin 2"},
		{"no stretch", func() (draw.Scene, error) { return draw.Histogram(draw.HistogramData{Counts: []int{3}}, o) }, "from 0 to 0"},
		{"band not a number", func() (draw.Scene, error) {
			return draw.Histogram(draw.HistogramData{To: 1, Counts: []int{3}, Hi: nan}, o)
		}, "expected"},
		{"miss not a number", func() (draw.Scene, error) {
			return draw.Misses([]draw.Miss{{DeeperM: nan}}, nil, missesOptions())
		}, "miss 1"},
		{"place not a number", func() (draw.Scene, error) { return draw.Misses([]draw.Miss{{XKM: nan}}, nil, missesOptions()) }, "finite"},
		{"block without size", func() (draw.Scene, error) {
			return draw.Misses(misses(2), []draw.Block{{}}, missesOptions())
		}, "block 1"},
		{"curve not a number", func() (draw.Scene, error) { return draw.Curves(point(0, nan), o) }, "goes through"},
		{"five curves", func() (draw.Scene, error) { return draw.Curves(make([]draw.Curve, 5), o) }, "5 lines"},
		{"profile infinite", func() (draw.Scene, error) { return draw.Profile(point(inf, 0), o) }, "goes through"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := tt.plot(); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v; want an error with %q", err, tt.want)
			}
		})
	}
}
