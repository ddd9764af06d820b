package sheet

import (
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/season"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// ServedDrawings draws an account: where people have water, who has it over the years, and
// how long points work.
func ServedDrawings(c *say.Catalogue, l say.Lang, a *season.Account) ([]AccountDrawing, error) {
	s := speaker{c, l}
	years, err := s.drawYears(a)
	if err != nil {
		return nil, err
	}
	lasting, err := s.drawLasting(a)
	if err != nil {
		return nil, err
	}
	out := []AccountDrawing{{Name: "served", Scene: years, part: "people"}, {Name: "lasting", Scene: lasting, part: "lasting"}}
	where, there, err := s.drawServed(a)
	if there {
		out = append([]AccountDrawing{{Name: "served-map", Scene: where, part: "people"}}, out...)
	}
	return out, err
}

func (s speaker) drawYears(a *season.Account) (draw.Scene, error) {
	o := s.plot("served")
	o.X.Label, o.Y.Label = s.Say("plot.served.x"), s.Say("plot.served.y")
	o.X.Number = func(v float64) string { return s.exactYear(v) }
	o.Y.Number, o.Y.Reach = s.share, []float64{0, 1}
	now, most := draw.Curve{Name: s.Say("plot.served.now")}, draw.Curve{Name: s.Say("plot.served.most")}
	for _, y := range a.Years {
		if y.Living > 0 {
			x := float64(y.On.Year)
			now.Points = append(now.Points, draw.Point{X: x, Y: float64(y.Served) / float64(y.Living)})
			most.Points = append(most.Points, draw.Point{X: x, Y: float64(y.AtMost) / float64(y.Living)})
		}
	}
	return draw.Curves([]draw.Curve{now, most}, o)
}

// exactYear writes a year as it is written: without a mark between thousands.
func (s speaker) exactYear(v float64) string {
	if v != float64(int(v)) {
		return ""
	}
	return plainNumber(v, 0)
}

func (s speaker) drawLasting(a *season.Account) (draw.Scene, error) {
	o := s.plot("lasting")
	o.X.Label, o.Y.Label = s.Say("plot.lasting.x"), s.Say("plot.lasting.y")
	o.X.Number, o.Y.Number, o.Y.Reach = s.exact, s.share, []float64{0, 1}
	var curves []draw.Curve
	if a.Lasting != nil {
		curves = []draw.Curve{
			{Name: s.Say("plot.lasting.found"), Points: steps(a.Lasting.Found)},
			{Name: s.Say("plot.lasting.seen"), Points: steps(a.Lasting.Seen)},
		}
	}
	return draw.Curves(curves, o)
}

// steps is a curve that keeps its height up to each failure.
func steps(c *coverage.Curve) []draw.Point {
	out := []draw.Point{{X: 0, Y: 1}}
	high := 1.0
	for _, x := range c.Steps {
		if x.Failed > 0 {
			out = append(out, draw.Point{X: x.At, Y: high}, draw.Point{X: x.At, Y: x.Survival})
			high = x.Survival
		}
	}
	return append(out, draw.Point{X: c.Steps[len(c.Steps)-1].At, Y: high})
}
