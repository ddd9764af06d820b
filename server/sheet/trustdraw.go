package sheet

import (
	"math"
	"strconv"
	"strings"

	"waterstrike/advisor/trust"
	"waterstrike/geo/coord"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// AccountDrawing is one drawing of an account.
type AccountDrawing struct {
	Name string // of its file, without its ending
	draw.Scene
	part, aside string
}

// TrustDrawings draws an account: depths said against found, where the truth fell within
// what was said, the map of misses, chances against what came of them, and what not
// answering gains. A drawing of nothing says so.
func TrustDrawings(c *say.Catalogue, l say.Lang, r trust.Report) ([]AccountDrawing, error) {
	s := speaker{c, l}
	var out []AccountDrawing
	for _, d := range []struct {
		name, part string
		draw       func(trust.Report, draw.PlotOptions) (draw.Scene, error)
	}{
		{"found", "level", s.drawFound},
		{"pit", "level", s.drawPIT},
		{"misses", "level", s.drawMisses},
		{"reliability", "outcome", s.drawReliability},
		{"abstaining", "outcome", s.drawAbstaining},
	} {
		scene, err := d.draw(r, s.plot(d.name))
		if err != nil {
			return nil, err
		}
		out = append(out, AccountDrawing{Name: d.name, Scene: scene, part: d.part})
	}
	if n := len(farOff(r.Cases.Levels)); n > 0 {
		out[2].aside = " " + s.Say("plot.far-off", say.With("n", say.Count(n)))
	}
	return out, nil
}

const plotMM = 92

// plot is the sheet of a drawing with its words.
func (s speaker) plot(name string) draw.PlotOptions {
	o := draw.PlotOptions{
		WidthMM: plotMM, HeightMM: plotMM, ID: name + "-", Title: s.Say("plot." + name + ".title"), Desc: s.Say("plot." + name + ".desc"),
		Words: map[string]string{}, Count: s.count, Empty: s.Say("plot.empty"),
	}
	o.X.Number, o.Y.Number = s.exact, s.exact
	for _, key := range []string{"equal", "site", "range", "per-square", "count", "expected", "band", "share", "deeper", "shallower", "block", "estimate", "none", "course", "course-range", "readings"} {
		o.Words["plot."+key] = s.Say("plot." + key)
	}
	return o
}

// exact writes a tick with the decimals that it has.
func (s speaker) exact(v float64) string {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return s.number(v, len(decimals))
}

func (s speaker) drawFound(r trust.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.found.x"), s.Say("plot.found.y")
	points := make([]draw.ScatterPoint, len(r.Cases.Levels))
	for i, c := range r.Cases.Levels {
		said := c.Said[0]
		points[i] = draw.ScatterPoint{Found: c.FoundM, Said: said.Quantile(0.5), Lo: said.Quantile(0.1), Hi: said.Quantile(0.9)}
	}
	return draw.Scatter(points, o)
}

func (s speaker) drawPIT(r trust.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.pit.x"), s.Say("plot.pit.y")
	a := r.Account.Level
	if a == nil {
		return draw.Histogram(draw.HistogramData{From: 0, To: 1}, o)
	}
	return draw.Histogram(evenly(a.PIT, a.Cases), o)
}

// evenly are counts that honest statements would spread evenly, with the 95 % range of each.
func evenly(counts []int, cases int) draw.HistogramData {
	d := draw.HistogramData{From: 0, To: 1, Counts: counts, Expected: float64(cases) / float64(len(counts))}
	half := z95 * math.Sqrt(d.Expected*(1-1/float64(len(counts)))) // of a binomial count
	d.Lo, d.Hi = max(d.Expected-half, 0), d.Expected+half
	return d
}

const z95 = 1.959963984540054 // Φ⁻¹(0.975)

func (s speaker) drawReliability(r trust.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.reliability.x"), s.Say("plot.reliability.y")
	o.X.Number, o.Y.Number = s.share, s.share
	var bins []draw.ReliabilityBin
	if a := r.Account.Outcome; a != nil {
		for _, b := range a.Reliability {
			bins = append(bins, draw.ReliabilityBin{
				Said: clamp(b.Said), Found: b.Worked, N: b.Cases,
				Lo: min(clamp(b.Range.Lo), b.Worked), Hi: max(clamp(b.Range.Hi), b.Worked),
			})
		}
	}
	return draw.Reliability(bins, o)
}

func (s speaker) drawAbstaining(r trust.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.abstaining.x"), s.Say("plot.abstaining.y")
	o.X.Number = s.share
	o.Y.Reach = []float64{0}
	own, distance := draw.Curve{Name: s.Say("plot.abstaining.own")}, draw.Curve{Name: s.Say("plot.abstaining.distance")}
	if a := r.Account.Outcome; a != nil {
		for _, p := range a.Abstaining {
			own.Points = append(own.Points, draw.Point{X: p.Answered, Y: p.ByWidth})
			distance.Points = append(distance.Points, draw.Point{X: p.Answered, Y: p.ByDistance})
		}
	}
	return draw.Curves([]draw.Curve{own, distance}, o)
}

func (s speaker) drawMisses(r trust.Report, o draw.PlotOptions) (draw.Scene, error) {
	var misses []draw.Miss
	var blocks []draw.Block
	if len(r.Cases.Levels) > 0 {
		misses, blocks = missesOf(r)
	}
	return draw.Misses(misses, blocks, draw.MissesOptions{
		WidthMM: o.WidthMM, HeightMM: o.HeightMM, ID: o.ID, Title: o.Title, Desc: o.Desc, Empty: o.Empty, Words: o.Words,
		North: s.Say("drawing.north"), Distance: s.distance, Depth: s.metres,
	})
}

const kmM = 1000 // metres in a kilometre

// missesOf places the misses in the plane of the squares, with the squares that hold them
// where they were hidden whole.
func missesOf(r trust.Report) (misses []draw.Miss, blocks []draw.Block) {
	plane := coord.NewPlane(r.Blocks.Origin)
	side := r.Blocks.SideM / kmM
	seen := map[int]bool{}
	far := farOff(r.Cases.Levels)
	for i, c := range r.Cases.Levels {
		if far[i] {
			continue
		}
		at := plane.XY(c.At)
		m := draw.Miss{XKM: at.X / kmM, YKM: at.Y / kmM, DeeperM: c.FoundM - c.Said[0].Quantile(0.5)}
		misses = append(misses, m)
		if r.Options.Split != trust.ByBlock || seen[c.Block] {
			continue
		}
		seen[c.Block] = true
		west, south := side*math.Floor(m.XKM/side), side*math.Floor(m.YKM/side)
		blocks = append(blocks, draw.Block{MinXKM: west, MinYKM: south, MaxXKM: west + side, MaxYKM: south + side})
	}
	return misses, blocks
}
