package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"time"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/pumptest"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// PumpingDrawings draws every way that gives something, how the fall slows with time, and
// the losses.
func PumpingDrawings(c *say.Catalogue, l say.Lang, a pumptest.Answer) ([]AccountDrawing, error) {
	s := speaker{c, l}
	var out []AccountDrawing
	add := func(part string, scene draw.Scene, err error) error {
		out = append(out, AccountDrawing{Name: fmt.Sprintf("pumping-%d", len(out)+1), Scene: scene, part: part})
		return err
	}
	next := func(over pumptest.Plot) draw.PlotOptions { return s.pumpingPlot(len(out)+1, over) }
	if losses, ok := a.Losses.Get(); ok && losses.Curves != nil {
		scene, err := s.drawFit(losses.Curves, pumptest.OverDischarge, next(pumptest.OverDischarge))
		if err := add("losses", scene, err); err != nil {
			return nil, err
		}
	}
	for _, w := range a.Ways {
		if w.Curves == nil {
			continue
		}
		o := next(w.Over)
		if w.Over != pumptest.OverShare { // which two ways share
			o.Title = s.Say("plot.pumping.of", say.With("value", say.Text(s.wayName(w))))
		}
		scene, err := s.drawFit(w.Curves, w.Over, o)
		if err := add("pumping", scene, err); err != nil {
			return nil, err
		}
	}
	for _, w := range a.Ways {
		slope := curveOf(w.Curves, hydraulics.CurveDerivative)
		if slope == nil || w.Code != "way.straight-line" {
			continue
		}
		scene, err := s.drawSlope(w, slope, next(pumptest.OverTime))
		if err := add("pumping", scene, err); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// PumpingPDF writes the test as a PDF for A4 that bears a day.
func PumpingPDF(w io.Writer, c *say.Catalogue, l say.Lang, a pumptest.Answer, day time.Time) error {
	drawings, err := PumpingDrawings(c, l, a)
	if err != nil {
		return err
	}
	return NewPumping(c, l, a).pdf(w, speaker{c, l}, drawings, day)
}

func (s speaker) pumpingPlot(n int, over pumptest.Plot) draw.PlotOptions {
	o := s.plot("pumping")
	o.ID = fmt.Sprintf("pumping-%d-", n)
	o.HeightMM = 0.8 * o.WidthMM
	o.Title, o.Desc = s.Say("plot.pumping."+string(over)+".title"), s.Say("plot.pumping."+string(over)+".desc")
	o.X.Label, o.Y.Label = s.Say("plot.pumping."+string(over)), s.Say("plot.pumping.drawdown")
	switch over {
	case pumptest.OverDischarge:
		o.Y.Label = s.Say("plot.pumping.each")
	case pumptest.OverShare:
		o.Y.Label = s.Say("plot.pumping.left-of")
	}
	return o
}

// scales are how the values of a kind of plot stand on its axes.
type scales struct {
	x, y       func(float64) float64
	logX, logY bool
}

const minutesPerDay = 1440

func scalesOf(over pumptest.Plot) scales {
	times := func(f float64) func(float64) float64 { return func(v float64) float64 { return f * v } }
	logOf := func(f float64) func(float64) float64 { return func(v float64) float64 { return math.Log10(f * v) } }
	switch over {
	case pumptest.OverDischarge:
		return scales{x: times(1), y: times(1000)} // mm
	case pumptest.OverShare:
		return scales{x: times(minutesPerDay), y: logOf(1), logY: true}
	case pumptest.OverRise, pumptest.OverRates:
		return scales{x: times(minutesPerDay), y: times(1)}
	case pumptest.OverRatio, pumptest.OverDistance:
		return scales{x: logOf(1), y: times(1), logX: true}
	}
	return scales{x: logOf(minutesPerDay), y: times(1), logX: true}
}

func (c scales) points(points []hydraulics.Point) (out []draw.Point) {
	for _, p := range points {
		out = append(out, draw.Point{X: c.x(p.X), Y: c.y(p.Y)})
	}
	return out
}

func curveOf(curves []hydraulics.Curve, name hydraulics.CurveName) []hydraulics.Point {
	for _, c := range curves {
		if c.Name == name {
			return c.Points
		}
	}
	return nil
}

// drawFit draws readings, those that the fit left out apart, and the fit within its range.
func (s speaker) drawFit(curves []hydraulics.Curve, over pumptest.Plot, o draw.PlotOptions) (draw.Scene, error) {
	c := scalesOf(over)
	used, left := partUsed(curveOf(curves, hydraulics.CurveReadings), curveOf(curves, hydraulics.CurveUsed))
	band := curveOf(curves, hydraulics.CurveLow)
	if high := curveOf(curves, hydraulics.CurveHigh); len(high) > 0 {
		band = append([]hydraulics.Point{}, band...)
		for i := range high {
			band = append(band, high[len(high)-1-i])
		}
	}
	drawn := []draw.Curve{
		{Name: s.Say("plot.pumping.left"), Form: draw.Dots, Points: c.points(left)},
		{Name: s.Say("plot.pumping.read"), Form: draw.Dots, Points: c.points(used)},
		{Name: s.Say("plot.pumping.fit"), Form: draw.PlainLine, Points: c.points(curveOf(curves, hydraulics.CurveModel))},
		{Name: s.Say("plot.pumping.band"), Form: draw.Band, Points: c.points(band)},
	}
	s.logAxes(&o, c, drawn)
	if over == pumptest.OverShare {
		o.Y.Ticks = withTick(o.Y.Ticks, math.Log10(leftAtBasicTime))
	}
	return draw.Curves(drawn, o)
}

// leftAtBasicTime is the share that is left after the time that Hvorslev's way goes by.
const leftAtBasicTime = 0.37

// withTick adds a tick, in the stead of one that would stand in its way.
func withTick(ticks []float64, at float64) []float64 {
	const room = 0.05 // of a power of ten
	ticks = slices.DeleteFunc(slices.Clone(ticks), func(t float64) bool { return math.Abs(t-at) < room })
	ticks = append(ticks, at)
	slices.Sort(ticks)
	return ticks
}

// partUsed parts readings into those that a fit rests on and those that it left out. A fit
// that names none rests on all.
func partUsed(all, used []hydraulics.Point) (on, left []hydraulics.Point) {
	if len(used) == 0 {
		return all, nil
	}
	in := map[hydraulics.Point]bool{}
	for _, p := range used {
		in[p] = true
	}
	for _, p := range all {
		if !in[p] {
			left = append(left, p)
		}
	}
	return used, left
}

// drawSlope draws drawdown and its slope in the logarithm of time, both axes logarithms.
func (s speaker) drawSlope(w pumptest.Way, slope []hydraulics.Point, o draw.PlotOptions) (draw.Scene, error) {
	o.Title = s.Say("plot.pumping.slope.title", say.With("value", say.Text(s.wayName(w))))
	o.Desc, o.Y.Label = s.Say("plot.pumping.slope.desc"), s.Say("plot.pumping.slope")
	c := scalesOf(pumptest.OverTime)
	c.logY, c.y = true, math.Log10
	above := func(points []hydraulics.Point) (out []hydraulics.Point) {
		for _, p := range points {
			if p.Y > 0 {
				out = append(out, p)
			}
		}
		return out
	}
	drawn := []draw.Curve{
		{Name: s.Say("plot.pumping.slope.fall"), Form: draw.Dots, Points: c.points(above(curveOf(w.Curves, hydraulics.CurveReadings)))},
		{Name: s.Say("plot.pumping.slope.slope"), Form: draw.Dots, Points: c.points(above(slope))},
	}
	s.logAxes(&o, c, drawn)
	return draw.Curves(drawn, o)
}

// logAxes sets the ticks of axes that are logarithms.
func (s speaker) logAxes(o *draw.PlotOptions, c scales, drawn []draw.Curve) {
	number := func(v float64) string { return s.exact(rounded(math.Pow(10, v))) }
	var x, y []float64
	for _, one := range drawn {
		for _, p := range one.Points {
			x, y = append(x, p.X), append(y, p.Y)
		}
	}
	if len(x) == 0 {
		return
	}
	if c.logX {
		o.X.Powers, o.X.Ticks, o.X.Number = true, logTicks(x), number
	}
	if c.logY {
		o.Y.Powers, o.Y.Ticks, o.Y.Number = true, logTicks(y), number
	}
}

// logTicks are the logarithms of 1, 2 and 5 of each power of ten that take in all values:
// over more than two powers of 1 alone.
func logTicks(values []float64) []float64 {
	lo, hi := slices.Min(values), slices.Max(values)
	steps := []float64{1, 2, 5}
	if hi-lo > 2 {
		steps = steps[:1]
	}
	const slack = 1e-9 // of a value that is a tick itself
	var out []float64
	for power := math.Floor(lo + slack); power < hi+1; power++ {
		for _, step := range steps {
			at := power + math.Log10(step)
			switch {
			case at <= lo+slack:
				out = []float64{at}
			case len(out) == 1 || out[len(out)-1] < hi-slack:
				out = append(out, at)
			}
		}
	}
	return out
}

// rounded takes off a tick what the power of ten added to it.
func rounded(v float64) float64 {
	const digits = 4
	text, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		return v
	}
	return text
}
