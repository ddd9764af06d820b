package sheet

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/ui/say"
)

// boreBuilt lists pipes and fills from the top.
func (s speaker) boreBuilt(b geo.Bore) Table {
	t := Table{Heading: s.Say("record.built"), Columns: []string{s.Say("plan.part"), s.Say("plan.column.depth"), s.Say("record.size")}}
	if len(b.Pipes)+len(b.Fills) == 0 {
		t.Missing = s.Say("bore.not-written")
	}
	pipes, fills := slices.Clone(b.Pipes), slices.Clone(b.Fills)
	slices.SortStableFunc(pipes, func(x, y geo.Pipe) int { return cmp.Compare(x.TopM, y.TopM) })
	slices.SortStableFunc(fills, func(x, y geo.Fill) int { return cmp.Compare(x.TopM, y.TopM) })
	for _, p := range pipes {
		var size []string
		if mm, ok := p.DiameterMM.Get(); ok {
			size = append(size, s.Say("record.diameter", say.With("effective", say.Number(mm, 0))))
		}
		if mm, ok := p.SlotMM.Get(); ok {
			size = append(size, s.Say("record.slot", say.With("effective", say.Number(mm, 1))))
		}
		if p.Material != "" {
			size = append(size, p.Material)
		}
		t.add(s.Say("pipe."+string(p.Kind)), s.interval(p.TopM, p.BaseM), strings.Join(size, ", "))
	}
	for _, f := range fills {
		t.add(s.Say("fill."+string(f.Kind)), s.interval(f.TopM, f.BaseM), "")
	}
	return t
}

func (s speaker) boreTests(b geo.Bore) Table {
	t := Table{Heading: s.Say("record.tests"), Columns: []string{s.Say("record.test"), s.Say("evidence.column.date"), s.Say("record.result")}}
	if len(b.Tests) == 0 {
		t.Missing = s.Say("record.not-tested")
	}
	for _, test := range b.Tests {
		t.add(s.Say("test."+string(test.Kind)), s.dateOr(test.On), strings.Join(s.testWords(test), "; "))
	}
	return t
}

// testWords says what was written of a test.
func (s speaker) testWords(t geo.PumpTest) []string {
	var out []string
	if rate := s.rate(t); rate != "" {
		out = append(out, rate)
	}
	if h, ok := t.Hours.Get(); ok {
		out = append(out, s.Say("record.hours", say.With("effective", say.Number(h, 1))))
	}
	rest, known := t.RestM.Get()
	lowest, read := t.PumpingM.Get()
	switch {
	case known && read:
		out = append(out, s.Say("record.lowered", say.With("from", say.Metres(rest)), say.With("to", say.Metres(lowest)), say.With("length", say.Metres(lowest-rest))))
	case known:
		out = append(out, s.Say("record.rest-before", say.With("from", say.Metres(rest))))
	case read:
		out = append(out, s.Say("record.level-at-end", say.With("to", say.Metres(lowest))))
	}
	if litres, ok := t.BailL.Get(); ok {
		out = append(out, s.Say("record.bailed", say.With("n", say.Count(int(litres+0.5)))))
	}
	if min, ok := t.HalfMin.Get(); ok {
		out = append(out, s.Say("record.half-back", say.With("effective", say.Number(min, 1))))
	}
	if n := len(t.Readings); n > 0 {
		out = append(out, s.Say("record.readings", say.With("n", say.Count(n))))
	}
	if t.Remarks != "" {
		out = append(out, t.Remarks)
	}
	return out
}

func (s speaker) rate(t geo.PumpTest) string {
	if lps, ok := t.RateLPS.Get(); ok {
		return s.yield(lps)
	}
	return ""
}

// boreSamples holds each result against its guideline value.
func (s speaker) boreSamples(b geo.Bore) Table {
	t := Table{Heading: s.Say("record.samples"), Columns: []string{
		s.Say("record.analyte"), s.Say("record.found"), s.Say("record.limit"), s.Say("record.verdict"), s.Say("evidence.column.date"),
	}}
	if len(b.Samples) == 0 {
		t.Missing = s.Say("quality.not-known")
	}
	for _, sample := range b.Samples {
		verdict, limit := geo.Judge(sample)
		if sample.Waived() {
			t.add(s.analyte(sample.Analyte), s.waived(sample), s.limit(sample, limit), s.Say("record.verdict.waived"), s.dateOr(sample.On))
			continue
		}
		t.add(s.analyte(sample.Analyte), s.found(sample), s.limit(sample, limit), s.Say("record.verdict."+string(verdict)), s.dateOr(sample.On))
	}
	if _, together := geo.JudgeTogether(b.Samples); together.Code != geo.NitrogenNotKnown {
		t.Notes = append(t.Notes, s.tell(together))
	}
	if len(b.Samples) > 0 {
		t.Notes = append(t.Notes, s.Say("record.samples.note"))
	}
	return t
}

// waived tells who answers for doing without a test, and why.
func (s speaker) waived(sample geo.Sample) string {
	return s.Say("record.waived", say.With("person", say.Text(sample.WaivedBy)), say.With("why", say.Text(sample.Reason)))
}

func (s speaker) analyte(name string) string {
	if a, _, ok := geo.FindAnalyte(name); ok {
		return s.Say("analyte." + a.Code)
	}
	return name
}

// found is a result with its unit, or what it lies below.
func (s speaker) found(sample geo.Sample) string {
	unit := unitWords(sample.Unit)
	if sample.Basis != "" {
		unit += " " + s.Say("record.basis", say.With("value", say.Text(sample.Basis)))
	}
	if v, ok := sample.Value.Get(); ok {
		return strings.TrimSpace(s.asFound(v) + " " + unit)
	}
	if v, ok := sample.DetectionLimit.Get(); ok {
		return strings.TrimSpace("< " + s.asFound(v) + " " + unit)
	}
	return s.Say("bore.not-written")
}

// limit tells the value that a result was held against, in the unit of the result, so that
// the two can be compared by eye.
func (s speaker) limit(sample geo.Sample, l geo.Limit) string {
	a, _, ok := geo.FindAnalyte(sample.Analyte)
	if !ok || l.Kind == "" {
		return s.Say("record.limit.none")
	}
	one, unit, basis := 1.0, a.Unit, a.Basis
	if v, err := a.In(1, sample.Unit, sample.Basis); err == nil && v > 0 && sample.Unit != "" {
		one, unit, basis = v, sample.Unit, cmp.Or(sample.Basis, a.Basis)
	}
	in := func(v float64) string {
		if one != 1 {
			v, _ = strconv.ParseFloat(strconv.FormatFloat(v/one, 'g', 3, 64), 64) // what was just written is read
		}
		return s.asFound(v)
	}
	var words []string
	if low, ok := l.Low.Get(); ok {
		words = append(words, "≥ "+in(low))
	}
	if high, ok := l.High.Get(); ok {
		words = append(words, "≤ "+in(high))
	}
	out := strings.TrimSpace(strings.Join(words, ", ") + " " + strings.TrimSpace(unitWords(unit)+" "+basis))
	return out + ", " + s.Say("record.limit."+string(l.Kind))
}

// unitWords writes a stored unit as people write it.
func unitWords(unit string) string {
	return strings.NewReplacer("uS", "µS", "ug", "µg", "100mL", "100 mL", "Cel", "°C", "[pH]", "").Replace(unit)
}
