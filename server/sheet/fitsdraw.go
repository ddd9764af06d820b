package sheet

import (
	"math"
	"time"
	"unicode"
	"unicode/utf8"

	"waterstrike/advisor"
	"waterstrike/advisor/level"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// FitsDrawings draws the fits: how unlike readings are by distance beside the model, each
// reading beside what the others say and where it fell within that, the yearly course with the readings by month, and
// the slopes on the land. A drawing of nothing says so.
func FitsDrawings(c *say.Catalogue, l say.Lang, f advisor.Fits) ([]AccountDrawing, error) {
	s := speaker{c, l}
	r, ok := f.Level.Get()
	if !ok {
		return nil, nil
	}
	var out []AccountDrawing
	for _, d := range []struct {
		name, part string
		draw       func(level.Report, draw.PlotOptions) (draw.Scene, error)
	}{
		{"likeness", "level", s.drawLikeness},
		{"left-out", "level", s.drawLeftOut},
		{"fell", "level", s.drawFell},
		{"course", "season", s.drawCourse},
		{"slopes", "land", s.drawSlopes},
	} {
		o := s.plot(d.name)
		o.Empty = s.Say("fit.empty")
		scene, err := d.draw(r, o)
		if err != nil {
			return nil, err
		}
		out = append(out, AccountDrawing{Name: d.name, Scene: scene, part: d.part})
	}
	return out, nil
}

func (s speaker) drawLikeness(r level.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.likeness.x"), s.Say("plot.likeness.y")
	o.X.Reach, o.Y.Reach = []float64{0}, []float64{0}
	if len(r.Shown.Unlike) == 0 {
		return draw.Curves(nil, o)
	}
	as := draw.Curve{Name: s.Say("plot.likeness.as")}
	beside := draw.Curve{Name: s.Say("plot.likeness.beside")}
	robust := draw.Curve{Name: s.Say("plot.likeness.robust")}
	model := draw.Curve{Name: s.Say("plot.likeness.model")}
	for _, u := range r.Shown.Unlike {
		km := u.DistanceM / kmM
		as.Points = append(as.Points, draw.Point{X: km, Y: u.Classical})
		beside.Points = append(beside.Points, draw.Point{X: km, Y: u.Beside})
		robust.Points = append(robust.Points, draw.Point{X: km, Y: u.BesideRobust})
	}
	for _, m := range r.Shown.Model {
		model.Points = append(model.Points, draw.Point{X: m.DistanceM / kmM, Y: m.Gamma})
	}
	return draw.Curves([]draw.Curve{as, beside, robust, model}, o)
}

func (s speaker) drawLeftOut(r level.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.left-out.x"), s.Say("plot.left-out.y")
	points := make([]draw.ScatterPoint, len(r.Shown.LeftOut.Cases))
	for i, c := range r.Shown.LeftOut.Cases {
		points[i] = draw.ScatterPoint{Found: c.ReadM, Said: c.P50, Lo: c.P10, Hi: c.P90}
	}
	return draw.Scatter(points, o)
}

func (s speaker) drawFell(r level.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.pit.x"), s.Say("plot.fell.y")
	left := r.Shown.LeftOut
	return draw.Histogram(evenly(left.PIT[:], len(left.Cases)), o)
}

func (s speaker) drawCourse(r level.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label, o.Y.Label = s.Say("plot.course.x"), s.Say("plot.course.y")
	var months [12]draw.CourseMonth
	for i, seen := range r.Shown.Months {
		rise := r.Season.Rise[i] * r.Season.RangeM
		half := z90 * math.Sqrt(r.Season.RiseVar[i]*r.Season.RangeM*r.Season.RangeM+r.Season.Rise[i]*r.Season.Rise[i]*r.Season.RangeSDM*r.Season.RangeSDM)
		months[i] = draw.CourseMonth{Name: s.initial(time.Month(i + 1)), Said: rise, Lo: rise - half, Hi: rise + half}
		if q, ok := seen.RiseM.Get(); ok {
			months[i].Read, months[i].ReadLo, months[i].ReadHi, months[i].N = q.Mid, q.Lo, q.Hi, seen.Used
		}
	}
	return draw.Course(months, o)
}

const z90 = 1.2815515655446004 // Φ⁻¹(0.9)

// initial is the first letter of a month.
func (s speaker) initial(m time.Month) string {
	first, _ := utf8.DecodeRuneInString(s.month(m))
	return string(unicode.ToUpper(first))
}

func (s speaker) drawSlopes(r level.Report, o draw.PlotOptions) (draw.Scene, error) {
	o.X.Label = s.Say("plot.slopes.x")
	rows := make([]draw.Estimate, len(r.Trend))
	for i, slope := range r.Trend {
		rows[i] = draw.Estimate{
			Name: s.Say("land." + slope.Term), Value: change(slope.B / r.PerShare),
			Lo: change((slope.B - z95*slope.SD) / r.PerShare), Hi: change((slope.B + z95*slope.SD) / r.PerShare),
		}
	}
	return draw.Estimates(rows, o)
}
