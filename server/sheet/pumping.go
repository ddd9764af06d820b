package sheet

import (
	"io"
	"math"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/pumptest"
	"waterstrike/geo"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// NewPumping says what a pumping test tells in a language.
func NewPumping(c *say.Catalogue, l say.Lang, a pumptest.Answer) Account {
	s := speaker{c, l}
	out := Account{
		Lang: l.String(), Title: s.Say("pumping.title"),
		Short: Lines{s.Say("advice.heading.verdict"), s.pumpingInShort(a)},
		How:   Lines{s.Say("fit.heading.read"), s.pumpingRemarks(a)},
	}
	if len(a.Ways) > 0 {
		out.Parts = append(out.Parts, AccountPart{Heading: s.Say("pumping.heading.ways"), Tables: []Table{s.ways(a)}, Key: "pumping"})
	}
	if losses, ok := a.Losses.Get(); ok {
		out.Parts = append(out.Parts, AccountPart{Heading: s.Say("pumping.heading.losses"), Tables: []Table{s.losses(losses)}, Key: "pumping"})
	}
	return out
}

// NewPumpingPage says the test and draws it.
func NewPumpingPage(c *say.Catalogue, l say.Lang, a pumptest.Answer) (Account, error) {
	drawings, err := speaker{c, l}.drawPumping(a)
	if err != nil {
		return Account{}, geo.Fail(geo.Internal, "sheet.NewPumpingPage", geo.Message{}, err)
	}
	return NewPumping(c, l, a).drawn(drawings)
}

// PumpingFile writes the test as one HTML file that needs no other.
func PumpingFile(w io.Writer, c *say.Catalogue, l say.Lang, a pumptest.Answer) error {
	page, err := NewPumpingPage(c, l, a)
	if err != nil {
		return err
	}
	return page.file(w, c, l)
}

// threeOf are a range's middle and ends as a sentence takes them, to some digits.
func (s speaker) threeOf(r pumptest.Range, digits int) []say.Arg {
	d := decimalsFor(r.Value, digits)
	return []say.Arg{say.With("lo", say.Number(r.Value, d)), say.With("hi", say.Number(r.Lo, d)), say.With("most", say.Number(r.Hi, d))}
}

// decimalsFor is how many decimals show so many digits of a number above 0.
func decimalsFor(v float64, digits int) int {
	const most = 12
	return min(most, max(0, digits-1-int(math.Floor(math.Log10(v)))))
}

func (s speaker) pumpingInShort(a pumptest.Answer) (out []string) {
	if l, ok := a.Losses.Get(); ok {
		mm := pumptest.Range{Value: 1000 * l.B.Value, Lo: 1000 * l.B.Lo, Hi: 1000 * l.B.Hi}
		d := decimalsFor(mm.Value, 3)
		out = append(out, s.Say("pumping.short.losses", say.With("effective", say.Number(mm.Value, d)), say.With("lo", say.Number(mm.Lo, d)), say.With("hi", say.Number(mm.Hi, d))))
		if l.C > 0 {
			out = append(out, s.Say("pumping.short.loss", say.With("effective", say.Number(1e6*l.C, decimalsFor(1e6*l.C, 3)))))
		}
		if l.Condition != "" {
			out = append(out, s.Say("pumping.condition."+string(l.Condition)))
		}
		return out
	}
	for _, w := range a.Ways {
		if t, ok := w.T.Get(); ok {
			out = append(out, s.Say("pumping.short.t", s.threeOf(t, 3)...))
		}
		if x, ok := w.S.Get(); ok {
			out = append(out, s.Say("pumping.short.s", s.threeOf(x, 2)...))
		}
		if k, ok := w.K.Get(); ok {
			out = append(out, s.Say("pumping.short.k", s.threeOf(k, 2)...))
		}
		if len(out) > 0 {
			return out
		}
	}
	return []string{s.Say("pumping.short.none")}
}

// pumpingRemarks are the signs of each way and what else to know.
func (s speaker) pumpingRemarks(a pumptest.Answer) []string {
	out := append([]string{s.Say("pumping.note.range")}, s.tellAll(a.Notes)...)
	for _, w := range a.Ways {
		if why, ok := w.Failed.Get(); ok {
			out = append(out, s.Say("pumping.failed", say.With("reason", say.Of(string(w.Code))), say.With("value", say.Text(s.tell(why)))))
		}
		for _, sign := range w.Signs {
			out = append(out, s.Say("pumping.sign."+string(sign), say.With("reason", say.Of(string(w.Code)))))
		}
	}
	return out
}

// ways lists what each way says; columns that none fills are left out.
func (s speaker) ways(a pumptest.Answer) Table {
	var hasT, hasS, hasK bool
	for _, w := range a.Ways {
		hasT, hasS, hasK = hasT || w.T.Known(), hasS || w.S.Known(), hasK || w.K.Known()
	}
	t := Table{Heading: s.Say("pumping.heading.ways"), Columns: []string{s.Say("pumping.column.way")}}
	column := func(has bool, code string) {
		if has {
			t.Columns = append(t.Columns, s.Say(code))
		}
	}
	column(hasT, "pumping.column.t")
	column(hasS, "pumping.column.s")
	column(hasK, "pumping.column.k")
	column(true, "pumping.column.used")
	for _, w := range a.Ways {
		row := []string{s.wayName(w)}
		number := func(has bool, r geo.Opt[pumptest.Range], code string, digits int) {
			if !has {
				return
			}
			words := s.Say("pumping.untold")
			if v, ok := r.Get(); ok {
				words = s.Say(code, s.threeOf(v, digits)...)
			}
			row = append(row, words)
		}
		number(hasT, w.T, "pumping.t-range", 3)
		number(hasS, w.S, "pumping.s-range", 2)
		number(hasK, w.K, "pumping.k-range", 2)
		t.add(append(row, s.Say("pumping.used", say.With("n", say.Count(w.Used)), say.With("total", say.Count(w.Of))))...)
	}
	return t
}

func (s speaker) wayName(w pumptest.Way) string {
	at, ok := w.DistanceM.Get()
	switch {
	case !ok:
		return s.Say(string(w.Code))
	case at == 0:
		return s.Say("pumping.at-well", say.With("reason", say.Of(string(w.Code))))
	}
	return s.Say("pumping.at", say.With("reason", say.Of(string(w.Code))), say.With("distance", say.Distance(at)))
}

func (s speaker) losses(l pumptest.Losses) Table {
	t := Table{Heading: s.Say("pumping.heading.losses"), Columns: []string{s.Say("pumping.column.discharge"), s.Say("pumping.column.drawdown"), s.Say("pumping.column.share")}}
	for _, step := range l.Steps {
		t.add(s.Say("pumping.cubic", say.With("effective", say.Number(step.Discharge, decimalsFor(step.Discharge, 4)))),
			s.Say("building.amount", say.With("effective", say.Number(step.DrawdownM, 2)), say.With("unit", say.Of("unit.m"))), s.chance(step.Efficiency))
	}
	return t
}

// drawPumping draws the first way that gives something, or the losses.
func (s speaker) drawPumping(a pumptest.Answer) ([]AccountDrawing, error) {
	o := s.plot("pumping")
	o.HeightMM = 0.75 * o.WidthMM
	var curves []hydraulics.Curve
	x, y := 1.0, 1.0
	log := true
	o.Y.Label = s.Say("plot.pumping.drawdown")
	switch losses, ok := a.Losses.Get(); {
	case ok:
		curves, log, y = losses.Curves, false, 1000
		o.X.Label, o.Y.Label = s.Say("plot.pumping.discharge"), s.Say("plot.pumping.each")
	case a.Kind == pumptest.Recovery:
		o.X.Label = s.Say("plot.pumping.ratio")
	default:
		x, o.X.Label = 1440, s.Say("plot.pumping.time")
	}
	for _, w := range a.Ways {
		if curves == nil {
			curves = w.Curves
		}
	}
	if curves == nil {
		return nil, nil
	}
	if log {
		o.X.Powers = true
		o.X.Number = func(v float64) string { return s.exact(math.Pow(10, v)) }
	}
	scene, err := draw.Curves(s.pumpingCurves(curves, x, y, log), o)
	return []AccountDrawing{{Name: "pumping", Scene: scene, part: "pumping"}}, err
}

func (s speaker) pumpingCurves(curves []hydraulics.Curve, x, y float64, log bool) (out []draw.Curve) {
	names := map[hydraulics.CurveName]string{
		hydraulics.CurveReadings: "plot.pumping.read", hydraulics.CurveModel: "plot.pumping.fit",
		hydraulics.CurveLow: "plot.pumping.low", hydraulics.CurveHigh: "plot.pumping.high",
	}
	for _, c := range curves {
		code, shown := names[c.Name]
		if !shown {
			continue
		}
		line := draw.Curve{Name: s.Say(code)}
		for _, p := range c.Points {
			at := x * p.X
			if log {
				at = math.Log10(at)
			}
			line.Points = append(line.Points, draw.Point{X: at, Y: y * p.Y})
		}
		out = append(out, line)
	}
	return out
}
