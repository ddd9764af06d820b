package draw_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

// sheetOptions are those of a plot on a small square sheet.
func sheetOptions(id, title, x, y string) draw.PlotOptions {
	return draw.PlotOptions{
		WidthMM: 100, HeightMM: 100, ID: id, Title: title, Desc: "made for a test",
		X: draw.Axis{Label: x}, Y: draw.Axis{Label: y}, Empty: "No site was held back yet: there is nothing to compare.",
		Words: map[string]string{
			"plot.equal": "said = found", "plot.site": "a site", "plot.range": "80 % range", "plot.per-square": "sites per square",
			"plot.share": "share found, 80 % range", "plot.count": "sites", "plot.expected": "expected", "plot.band": "95 % of the time",
			"plot.deeper": "deeper than said", "plot.shallower": "shallower than said", "plot.block": "left out together",
			"plot.estimate": "change, 95 % interval", "plot.none": "no change",
			"plot.course": "course", "plot.course-range": "its range", "plot.readings": "readings",
		},
	}
}

func percent(v float64) string { return strconv.FormatFloat(100*v, 'f', 0, 64) + "\u00a0%" }

func depths(n int) []draw.ScatterPoint {
	r := rand.New(rand.NewPCG(7, uint64(n)))
	out := make([]draw.ScatterPoint, n)
	for i := range out {
		said := math.Exp(2.2 + 0.5*r.NormFloat64())
		found := said * math.Exp(0.25*r.NormFloat64())
		out[i] = draw.ScatterPoint{Found: found, Said: said, Lo: said * 0.73, Hi: said * 1.38}
	}
	return out
}

func scatterPlot(n int) func() (draw.Scene, error) {
	return func() (draw.Scene, error) {
		o := sheetOptions("sc-", "Depth to water, said and found", "Found (m)", "Said (m)")
		return draw.Scatter(depths(n), o)
	}
}

func bins() []draw.ReliabilityBin {
	var out []draw.ReliabilityBin
	for i := range 10 {
		said := 0.05 + 0.1*float64(i)
		found := min(1, max(0, said+0.06*math.Sin(7*said)))
		out = append(out, draw.ReliabilityBin{Said: said, Found: found, Lo: max(0, found-0.08), Hi: min(1, found+0.08), N: 12 + 31*i%97})
	}
	return out
}

func reliabilityPlot() (draw.Scene, error) {
	o := sheetOptions("re-", "Chances said and kept", "Mean of what was said", "Share that came true")
	o.X.Number, o.Y.Number = percent, percent
	o.Count = func(n int) string { return "n = " + strconv.Itoa(n) }
	return draw.Reliability(bins(), o)
}

func pit() draw.HistogramData {
	return draw.HistogramData{To: 1, Counts: []int{48, 37, 41, 35, 44, 39, 40, 33, 42, 61}, Expected: 42, Lo: 30, Hi: 54}
}

func histogramPlot() (draw.Scene, error) {
	o := sheetOptions("hi-", "Where the found depth lies in what was said", "Place within what was said", "Sites")
	o.HeightMM = 75
	return draw.Histogram(pit(), o)
}

func misses(n int) []draw.Miss {
	r := rand.New(rand.NewPCG(3, uint64(n)))
	out := make([]draw.Miss, n)
	for i := range out {
		out[i] = draw.Miss{XKM: 60 * r.Float64(), YKM: 40 * r.Float64(), DeeperM: 3 * r.NormFloat64()}
	}
	return out
}

func missesOptions() draw.MissesOptions {
	o := sheetOptions("mi-", "Where it was missed, and by how much", "", "")
	return draw.MissesOptions{WidthMM: 120, HeightMM: 115, ID: o.ID, Title: o.Title, Desc: o.Desc, North: "N", Words: o.Words, Empty: o.Empty}
}

func missesMap(n int) func() (draw.Scene, error) {
	return func() (draw.Scene, error) {
		var blocks []draw.Block
		for i := range 6 {
			x, y := 20*float64(i%3), 20*float64(i/3)
			blocks = append(blocks, draw.Block{MinXKM: x, MinYKM: y, MaxXKM: x + 20, MaxYKM: y + 20})
		}
		return draw.Misses(misses(n), blocks, missesOptions())
	}
}

func riskCurves() []draw.Curve {
	names := []string{"this advisor", "distance to the nearest bore", "8 nearest bores", "by chance"}
	out := make([]draw.Curve, len(names))
	for i, name := range names {
		out[i].Name = name
		for k := range 21 {
			c := float64(k) / 20
			risk := 0.21 - 0.03*float64(3-i)*(1-c)*(1+c/2) - 0.004*float64(3-i)
			out[i].Points = append(out[i].Points, draw.Point{X: c, Y: risk})
		}
	}
	return out
}

func curvesPlot() (draw.Scene, error) {
	o := sheetOptions("cu-", "Fewer answers, fewer misses", "Share of sites answered", "Brier score")
	o.WidthMM, o.HeightMM = 150, 80
	o.X.Number, o.X.Reach, o.Y.Reach = percent, []float64{0, 1}, []float64{0}
	return draw.Curves(riskCurves(), o)
}

func profilePlot() (draw.Scene, error) {
	o := sheetOptions("pr-", "Log score by depth", "Score (nats per cell)", "Depth (m)")
	o.Y.Reach = []float64{0}
	var curves []draw.Curve
	for i, name := range []string{"this advisor", "nearest log", "depth profile"} {
		c := draw.Curve{Name: name}
		for k := range 30 {
			d := float64(k) + 0.5
			c.Points = append(c.Points, draw.Point{X: 0.4 + 0.2*float64(i) + 0.02*d + 0.05*math.Sin(d/3+float64(i)), Y: d})
		}
		curves = append(curves, c)
	}
	return draw.Profile(curves, o)
}

// plots are all of them, filled.
var plots = map[string]func() (draw.Scene, error){
	"scatter":     scatterPlot(60),
	"rings":       scatterPlot(600),
	"density":     scatterPlot(10_000),
	"reliability": reliabilityPlot,
	"histogram":   histogramPlot,
	"misses":      missesMap(120),
	"curves":      curvesPlot,
	"profile":     profilePlot,
	"estimates":   estimatesPlot,
	"course":      coursePlot,
}

func made(t *testing.T, plot func() (draw.Scene, error)) draw.Scene {
	t.Helper()
	s, err := plot()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The large ones are held by the laws below.
func TestGoldenPlots(t *testing.T) {
	for name, plot := range plots {
		if name != "rings" && name != "density" {
			t.Run(name, func(t *testing.T) { golden(t, name+".svg", made(t, plot)) })
		}
	}
}

func TestPlotsAreValidAndRepeatable(t *testing.T) {
	for name, plot := range plots {
		t.Run(name, func(t *testing.T) {
			doc := svg(t, made(t, plot))
			checkDocument(t, doc)
			if svg(t, made(t, plot)) != doc {
				t.Error("the same data gave other bytes")
			}
			if got := strings.Join(words(t, doc), "|"); strings.Contains(got, "plot.") {
				t.Errorf("a word is missing: %q", got)
			}
		})
	}
}
