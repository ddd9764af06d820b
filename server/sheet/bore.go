package sheet

import (
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/ui/say"
)

// boreFacts lists what was written of the bore as a whole. What was not written is left
// out, but for outcome, method and depth, whose absence is said.
func (s speaker) boreFacts(b geo.Bore) Table {
	t := Table{Heading: s.Say("record.facts"), Columns: []string{s.Say("record.what"), s.Say("record.value")}}
	t.add(s.Say("bore.outcome"), s.Say("outcome."+string(b.Outcome)))
	t.add(s.Say("bore.method"), s.methodWords(b.Method))
	t.add(s.Say("bore.depth"), s.metresOr(b.DepthM, s.Say("bore.not-written")))
	add := func(code, words string) {
		if words != "" {
			t.add(s.Say(code), words)
		}
	}
	add("bore.refusal", s.metresOr(b.RefusalM, ""))
	add("bore.place", b.Place)
	add("record.name", b.Name)
	if r, ok := b.Position.Get(); ok {
		t.add(s.Say("bore.position"), s.position(r.Pos))
		if r.PrecisionM > 0 {
			t.add(s.Say("record.precision"), s.distance(r.PrecisionM))
		}
	}
	if e, ok := b.Ground.Get(); ok {
		t.add(s.Say("record.ground"), strings.TrimSpace(s.metres(e.M)+" "+e.Datum))
	}
	if d, ok := b.Started.Get(); ok {
		t.add(s.Say("record.started"), s.date(d))
	}
	if d, ok := b.Completed.Get(); ok {
		t.add(s.Say("bore.completed"), s.date(d))
	}
	if y, ok := b.YieldLPS.Get(); ok {
		t.add(s.Say("bore.yield"), s.yield(y))
	}
	add("record.driller", b.Driller)
	if m, ok := b.Cost.Get(); ok {
		t.add(s.Say("record.cost"), s.Say("record.money", say.With("money", say.Money(m.Amount, m.Currency))))
	}
	return t
}

// methodWords names a method; one that the catalogue does not know, such as a programme's
// own, is shown as it is written.
func (s speaker) methodWords(m geo.Method) string {
	if code := "method." + string(m); s.catalogue.Has(code) {
		return s.Say(code)
	}
	return string(m)
}

func (s speaker) yield(lps float64) string {
	return s.Say("value.yield", say.With("yield", say.LitresPerSecond(lps)))
}

func (s speaker) metresOr(m geo.Opt[float64], missing string) string {
	if v, ok := m.Get(); ok {
		return s.metres(v)
	}
	return missing
}

// asFound writes a number with as many decimals as it has.
func (s speaker) asFound(v float64) string {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	_, decimals, _ := strings.Cut(text, ".")
	return s.Say("value.number", say.With("effective", say.Number(v, min(len(decimals), 6))))
}

// boreLayers leaves out the columns in which nothing was written.
func (s speaker) boreLayers(b geo.Bore) Table {
	t := Table{Heading: s.Say("bore.layers"), Columns: []string{s.Say("layers.column.depth"), s.Say("bore.class")}}
	if len(b.Layers) == 0 {
		t.Missing = s.Say("bore.not-written")
	}
	rows := make([][]string, len(b.Layers))
	for i, l := range b.Layers {
		rows[i] = []string{s.interval(l.TopM, l.BaseM), s.layerClass(l)}
	}
	for _, c := range []struct {
		code string
		of   func(geo.Layer) string
	}{
		{"bore.colour", func(l geo.Layer) string { return l.Colour }},
		{"bore.hardness", func(l geo.Layer) string { return l.Hardness }},
		{"record.pace", func(l geo.Layer) string {
			if m, ok := l.MinutesPerM.Get(); ok {
				return s.Say("record.minutes", say.With("effective", say.Number(m, 0)))
			}
			return ""
		}},
		{"bore.words", func(l geo.Layer) string { return l.Words }},
	} {
		if !slices.ContainsFunc(b.Layers, func(l geo.Layer) bool { return c.of(l) != "" }) {
			continue
		}
		t.Columns = append(t.Columns, s.Say(c.code))
		for i, l := range b.Layers {
			rows[i] = append(rows[i], c.of(l))
		}
	}
	for _, row := range rows {
		t.add(row...)
	}
	return t
}

// layerClass names the class with its grade, and the clay in it.
func (s speaker) layerClass(l geo.Layer) string {
	words := s.Say("class." + lookOf(l.Class, l.Grade))
	if l.Clayey {
		words += ", " + s.Say("record.clayey")
	}
	return words
}

func (s speaker) boreWater(b geo.Bore) Table {
	t := Table{Heading: s.Say("bore.levels"), Columns: []string{s.Say("evidence.column.date"), s.Say("plan.column.depth")}}
	for _, strike := range b.Strikes {
		t.Notes = append(t.Notes, s.Say("bore.strikes", say.With("depth", say.Metres(strike.DepthM))))
	}
	if len(b.Levels) == 0 {
		t.Missing = s.Say("sheet.not-read")
	}
	for _, l := range b.Levels {
		t.add(s.dateOr(l.On), s.level(l))
	}
	return t
}

func (s speaker) dateOr(on geo.Opt[geo.Date]) string {
	if d, ok := on.Get(); ok {
		return s.date(d)
	}
	return s.Say("sheet.undated")
}

func (s speaker) level(l geo.Level) string {
	depth := l.DepthM.Or(0) // checked: only a flowing level may lack its depth
	switch l.State {
	case geo.LevelFlowing:
		return s.Say("level.flowing")
	case geo.LevelDryTo:
		return s.Say("level.dry-to", say.With("depth", say.Metres(depth)))
	}
	return s.metres(depth)
}
