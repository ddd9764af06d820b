package sheet

import (
	"slices"

	"waterstrike/geo"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// BoreText says a bore's record as one page for a terminal. What was not written is left
// out, but for outcome, method, depth and layers, whose absence is said.
func BoreText(c *say.Catalogue, l say.Lang, b geo.Bore) string {
	s := speaker{c, l}
	var p page
	p.heading(s.Say("bore.title", say.With("bore", say.Text(b.Label()))))
	p.grid(s.boreFacts(b))
	p.table(s.boreLayers(b))
	p.table(s.boreWater(b))
	if b.Remarks != "" {
		p.lines([]string{b.Remarks})
	}
	return p.String()
}

func (s speaker) boreFacts(b geo.Bore) [][]string {
	facts := [][]string{
		{s.Say("bore.outcome"), s.Say("outcome." + string(b.Outcome))},
		{s.Say("bore.method"), s.Say("method." + string(b.Method))},
		{s.Say("bore.depth"), s.metresOr(b.DepthM, s.Say("bore.not-written"))},
	}
	add := func(code, words string) {
		if words != "" {
			facts = append(facts, []string{s.Say(code), words})
		}
	}
	add("bore.place", b.Place)
	if r, ok := b.Position.Get(); ok {
		add("bore.position", s.position(r.Pos))
	}
	if d, ok := b.Completed.Get(); ok {
		add("bore.completed", s.date(d))
	}
	add("bore.refusal", s.metresOr(b.RefusalM, ""))
	if y, ok := b.YieldLPS.Get(); ok {
		add("bore.yield", s.Say("value.yield", say.With("yield", say.LitresPerSecond(y))))
	}
	return facts
}

func (s speaker) metresOr(m geo.Opt[float64], missing string) string {
	if v, ok := m.Get(); ok {
		return s.metres(v)
	}
	return missing
}

// boreLayers leaves out the columns in which nothing was written.
func (s speaker) boreLayers(b geo.Bore) Table {
	t := Table{Heading: s.Say("bore.layers"), Columns: []string{s.Say("layers.column.depth"), s.Say("bore.class")}}
	if len(b.Layers) == 0 {
		t.Missing = s.Say("bore.not-written")
	}
	rows := make([][]string, len(b.Layers))
	for i, l := range b.Layers {
		rows[i] = []string{s.interval(l.TopM, l.BaseM), s.class(l.Class)}
	}
	for _, c := range []struct {
		code string
		of   func(geo.Layer) string
	}{
		{"bore.colour", func(l geo.Layer) string { return l.Colour }},
		{"bore.hardness", func(l geo.Layer) string { return l.Hardness }},
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

func (s speaker) boreWater(b geo.Bore) Table {
	t := Table{Heading: s.Say("bore.levels"), Columns: []string{s.Say("evidence.column.date"), s.Say("plan.column.depth")}}
	for _, strike := range b.Strikes {
		t.Notes = append(t.Notes, s.Say("bore.strikes", say.With("depth", say.Metres(strike.DepthM))))
	}
	if len(b.Levels) == 0 {
		t.Missing = s.Say("sheet.not-read")
	}
	for _, l := range b.Levels {
		on := s.Say("sheet.undated")
		if d, ok := l.On.Get(); ok {
			on = s.date(d)
		}
		t.add(on, s.level(l))
	}
	return t
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

// BoreColumn draws the layers of a bore. A bore without layers is a [geo.NotFound] error.
func BoreColumn(c *say.Catalogue, l say.Lang, b geo.Bore) (draw.Scene, error) {
	if len(b.Layers) == 0 {
		return draw.Scene{}, geo.Fail(geo.NotFound, "sheet.BoreColumn", geo.Say("problem.not-found"), nil)
	}
	s := speaker{c, l}
	title := s.Say("drawing.bore-title", say.With("bore", say.Text(b.Label())))
	var layers []draw.ColumnLayer
	for _, layer := range b.Layers {
		note := layer.Words
		if note == "" {
			note = s.class(layer.Class)
		}
		layers = append(layers, draw.ColumnLayer{
			TopM: layer.TopM, BaseM: layer.BaseM, Note: short(note),
			Odds: []draw.Odds{{Class: layer.Class.String(), Share: 1}},
		})
	}
	return draw.Column(layers, draw.ColumnOptions{
		WidthMM: 86, HeightMM: 118, ID: "bore-", Title: title, Desc: title,
		DepthLabel: s.Say("drawing.depth-axis"), Words: s.drawingWords(), Number: s.tick,
	})
}
