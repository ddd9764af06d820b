package sheet

import (
	"io"
	"math"
	"slices"
	"unicode"
	"unicode/utf8"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/pumptest"
	"waterstrike/geo"
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
	if y, ok := a.Yield.Get(); ok {
		part := AccountPart{Heading: s.Say("pumping.heading.yield"), Tables: []Table{s.yields(y)}, Key: "yield"}
		out.Parts = append([]AccountPart{part}, out.Parts...)
	}
	if losses, ok := a.Losses.Get(); ok {
		out.Parts = append(out.Parts, AccountPart{Heading: s.Say("pumping.heading.losses"), Tables: []Table{s.losses(losses)}, Key: "losses"})
	}
	return out
}

// NewPumpingPage says the test and draws it.
func NewPumpingPage(c *say.Catalogue, l say.Lang, a pumptest.Answer) (Account, error) {
	drawings, err := PumpingDrawings(c, l, a)
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
	return []say.Arg{say.With("effective", say.Number(r.Value, d)), say.With("spread", say.NumberRange(r.Lo, r.Hi, d))}
}

// decimalsFor is how many decimals show so many digits of a number above 0.
func decimalsFor(v float64, digits int) int {
	const most = 12
	return min(most, max(0, digits-1-int(math.Floor(math.Log10(v)))))
}

// scaled is a range in another unit.
func scaled(r pumptest.Range, by float64) pumptest.Range {
	return pumptest.Range{Value: by * r.Value, Lo: by * r.Lo, Hi: by * r.Hi}
}

// A discharge in litres a minute, and in the buckets that villagers count by, from L/s.
const (
	perMinute = 60.0
	bucketsAn = 3600.0 / pumptest.BucketL // hour
)

// yields lists what a test by hand tells of what the well gives.
func (s speaker) yields(y pumptest.Yield) Table {
	t := Table{Heading: s.Say("pumping.heading.yield"), Columns: []string{s.Say("pumping.column.what"), s.Say("pumping.column.amount"), s.Say("pumping.column.hourly")}}
	for _, one := range []struct {
		code string
		said geo.Opt[pumptest.Range]
	}{{"pumping.yield.was", y.LPS}, {"pumping.yield.metre", y.PerMetre}, {"pumping.yield.carries", y.Carries}} {
		if r, ok := one.said.Get(); ok {
			t.add(s.Say(one.code), s.Say("pumping.yield.range", s.threeOf(scaled(r, perMinute), 2)...), s.Say("pumping.yield.hourly", s.threeOf(scaled(r, bucketsAn), 2)...))
		}
	}
	return t
}

// yieldInShort says first what matters of a test by hand.
func (s speaker) yieldInShort(y pumptest.Yield) (out []string) {
	if y.Verdict != "" {
		needed := y.Needed.Or(0)
		out = append(out, s.Say("pumping.verdict."+string(y.Verdict), say.With("effective", say.Number(needed, decimalsFor(needed, 2)))))
	}
	if r, ok := y.Carries.Get(); ok {
		out = append(out, s.Say("pumping.short.carries", s.threeOf(scaled(r, perMinute), 2)...))
	}
	if r, ok := y.LPS.Get(); ok {
		args := append(s.threeOf(scaled(r, perMinute), 2), say.With("n", say.Count(int(math.Round(bucketsAn*r.Value)))))
		out = append(out, s.Say("pumping.short.taken", args...))
	}
	return out
}

func (s speaker) pumpingInShort(a pumptest.Answer) (out []string) {
	if y, ok := a.Yield.Get(); ok {
		if out = s.yieldInShort(y); len(a.Ways) == 0 {
			return out
		}
	}
	return append(out, s.groundInShort(a)...)
}

// groundInShort says what the ground gives by the way to take first, and the losses.
func (s speaker) groundInShort(a pumptest.Answer) (out []string) {
	if l, ok := a.Losses.Get(); ok {
		out = s.lossesInShort(l)
		if len(a.Ways) == 0 {
			return out
		}
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
		if w.T.Known() || w.K.Known() {
			return out
		}
	}
	return append(out, s.Say("pumping.short.none"))
}

// lossesInShort says what each cubic metre costs, and how much of it is the well's.
func (s speaker) lossesInShort(l pumptest.Losses) (out []string) {
	out = append(out, s.Say("pumping.short.losses", s.threeOf(scaled(l.B, 1000), 3)...))
	if l.C > 0 {
		c := scaled(pumptest.Range{Value: l.C, Lo: max(0, l.CLo), Hi: l.CHi}, 1e6)
		out = append(out, s.Say("pumping.short.loss", s.threeOf(c, 3)...))
	}
	if n := len(l.Steps); n > 0 {
		last := l.Steps[n-1]
		out = append(out, s.Say("pumping.short.share", say.With("effective", say.Number(last.Discharge, decimalsFor(last.Discharge, 3))), say.With("value", say.Text(s.chance(last.Efficiency)))))
	}
	if l.Condition != "" {
		out = append(out, s.Say("pumping.condition."+string(l.Condition)))
	}
	return out
}

// pumpingRemarks are the signs of each way and what else to know.
func (s speaker) pumpingRemarks(a pumptest.Answer) []string {
	out := append([]string{s.Say("pumping.note.range")}, s.tellAll(a.Notes)...)
	for _, w := range a.Ways {
		if why, ok := w.Failed.Get(); ok {
			out = append(out, capital(s.Say("pumping.failed", say.With("reason", say.Of(string(w.Code))), say.With("value", say.Text(s.tell(why))))))
		}
		for _, sign := range w.Signs {
			out = append(out, capital(s.Say("pumping.sign."+string(sign), say.With("reason", say.Of(string(w.Code))))))
		}
	}
	if l, ok := a.Losses.Get(); ok && slices.Contains(l.Signs, hydraulics.FewReadings) {
		out = append(out, s.Say("pumping.few-steps"))
	}
	return out
}

// capital begins a sentence.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// ways lists what each way says; columns that none fills are left out.
func (s speaker) ways(a pumptest.Answer) Table {
	var hasT, hasS, hasK, hasLeft bool
	for _, w := range a.Ways {
		hasLeft = hasLeft || w.LeftM > 0
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
	column(hasLeft, "pumping.column.left")
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
		if hasLeft {
			row = append(row, s.leftOver(w))
		}
		t.add(append(row, s.Say("pumping.used", say.With("n", say.Count(w.Used)), say.With("total", say.Count(w.Of))))...)
	}
	return t
}

// leftOver is what the fit leaves of the readings.
func (s speaker) leftOver(w pumptest.Way) string {
	if !w.T.Known() || w.LeftM == 0 { // one reading, or times, leave nothing to tell
		return s.Say("pumping.untold")
	}
	return s.Say("pumping.left", say.With("effective", say.Number(100*w.LeftM, 1)))
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
		t.add(s.Say("pumping.cubic", say.With("effective", say.Number(step.Discharge, decimalsFor(step.Discharge, 3)))),
			s.Say("building.amount", say.With("effective", say.Number(step.DrawdownM, 2)), say.With("unit", say.Of("unit.m"))), s.chance(step.Efficiency))
	}
	return t
}
