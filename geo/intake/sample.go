package intake

import (
	"cmp"

	"waterstrike/geo"
)

// sample reads one result a row, or one column per analyte.
func (r *run) sample(c *cells) (bool, error) {
	if len(c.table.analytes) > 0 {
		return r.wideSample(c)
	}
	a, named, ok := c.analyte()
	text := c.text("value")
	if ok && text == "" {
		c.reject(MissingValue, c.table.fields["value"].name, "")
	}
	if !ok || text == "" {
		return false, nil
	}
	f := c.table.fields["value"]
	s, ok := c.result(a, f, text, cmp.Or(c.text("unit"), f.unitOfColumn(c)))
	if !ok {
		return false, nil
	}
	s.Basis = cmp.Or(c.text("basis"), s.Basis, named)
	return r.part(c, c.signed(a, f, s))
}

// analyte reads what was tested for: a code that the mapping gives, or a name or sign in
// any of the three languages.
func (c *cells) analyte() (a geo.Analyte, basis string, ok bool) {
	text := c.text("analyte")
	if a, basis, ok = geo.FindAnalyte(text); ok {
		return a, basis, true
	}
	name := c.table.fields["analyte"].name
	if text == "" {
		c.reject(MissingValue, name, "")
	} else {
		c.report(geo.Rejected, UnknownValue, name, text)
	}
	return geo.Analyte{}, "", false
}

func (r *run) wideSample(c *cells) (bool, error) {
	var parts []any
	for _, f := range c.table.analytes {
		text := c.cell(f)
		if text == "" {
			continue
		}
		a, _, _ := geo.FindAnalyte(f.fieldKey)
		if s, ok := c.result(a, f, text, f.unitOfColumn(c)); ok {
			s.Basis = cmp.Or(s.Basis, f.Basis)
			parts = append(parts, c.signed(a, f, s))
		}
	}
	if len(parts) == 0 {
		c.reject(MissingValue, c.keyName(), "")
		return false, nil
	}
	return r.part(c, parts...)
}

// unitOfColumn is the unit that the mapping states for a column of results.
func (f *column) unitOfColumn(c *cells) string {
	if f.unitAt >= 0 {
		return c.valid(f.unitAt)
	}
	if f.Unit == "cell" {
		return ""
	}
	return f.Unit
}

// signed adds what the row says of the whole bottle, and doubts a result that may be
// counted in two ways.
func (c *cells) signed(a geo.Analyte, f *column, s geo.Sample) geo.Sample {
	if s.Basis == "" && len(a.Bases) > 0 {
		c.report(geo.Doubt, NoBasis, f.name, a.Code)
	}
	s.On, s.Laboratory = c.date("date"), c.text("laboratory")
	return s
}
