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
	if !ok {
		return false, nil
	}
	f, text := c.table.fields["value"], c.text("value")
	unit := cmp.Or(c.text("unit"), f.unitOfColumn(c))
	var s geo.Sample
	switch {
	case text != "":
		s, ok = c.result(a, f, text, unit)
	case c.text("waivedBy") != "" && !c.limit().Known():
		s, ok = c.waived(a, f, unit)
	case c.limit().Known():
		s, ok = c.notFound(a, f, text, unit)
	default:
		c.reject(MissingValue, f.name, "")
		return false, nil
	}
	if !ok {
		return false, nil
	}
	s.Basis = cmp.Or(c.text("basis"), s.Basis, named)
	return r.part(c, c.signed(a, f, s))
}

// waived keeps who answers for doing without a test, and why: without a reason nobody does.
// Beside a result a waiver says nothing, and is not asked for.
func (c *cells) waived(a geo.Analyte, f *column, unit string) (geo.Sample, bool) {
	if c.text("reason") == "" {
		c.reject(MissingValue, c.columnName("reason", "waivedBy"), "")
		return geo.Sample{}, false
	}
	s, ok := geo.Sample{Analyte: a.Code, Unit: a.Unit}, true
	if unit != "" {
		s, ok = c.measured(a, f, unit, unit)
	}
	s.WaivedBy, s.Reason = c.text("waivedBy"), c.text("reason")
	return s, ok
}

// columnName is the column of the first of the fields that the table has.
func (c *cells) columnName(fields ...string) string {
	for _, name := range fields {
		if f := c.table.fields[name]; f != nil {
			return f.name
		}
	}
	return ""
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
