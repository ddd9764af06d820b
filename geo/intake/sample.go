package intake

import (
	"strings"

	"waterstrike/geo"
)

// sample reads one result a row, or one column per analyte.
func (r *run) sample(c *cells) (bool, error) {
	if len(c.table.analytes) > 0 {
		return r.wideSample(c)
	}
	analyte, ok := c.needsChoice("analyte")
	unit := c.text("unit")
	if ok && unit == "" {
		c.reject(UnknownUnit, c.table.fields["unit"].name, "")
	}
	if !ok || unit == "" {
		return false, nil
	}
	f := c.table.fields["value"]
	s, ok := c.result(f, c.text("value"))
	if !ok {
		if c.text("value") == "" {
			c.reject(MissingValue, f.name, "")
		}
		return false, nil
	}
	s.Analyte, s.Unit, s.Basis = analyte, unit, c.text("basis")
	return r.part(c, c.signed(s))
}

func (r *run) wideSample(c *cells) (bool, error) {
	var found []geo.Sample
	for _, f := range c.table.analytes {
		text := c.cell(f)
		if text == "" {
			continue
		}
		s, ok := c.result(f, text)
		if !ok {
			continue
		}
		s.Analyte, s.Unit, s.Basis = f.fieldKey, f.Unit, f.Basis
		found = append(found, c.signed(s))
	}
	if len(found) == 0 {
		c.reject(MissingValue, c.keyName(), "")
		return false, nil
	}
	parts := make([]any, len(found))
	for i, s := range found {
		parts[i] = s
	}
	return r.part(c, parts...)
}

func (c *cells) signed(s geo.Sample) geo.Sample {
	s.On, s.Laboratory = c.date("date"), c.text("laboratory")
	return s
}

// result reads a figure, or "<0.01": not found down to that limit.
func (c *cells) result(f *column, text string) (geo.Sample, bool) {
	if text == "" {
		return geo.Sample{}, false
	}
	limit, below := strings.CutPrefix(text, "<")
	v, unit, ok := readNumber(limit, f.decimal)
	if !ok || unit != "" || v < 0 {
		c.report(geo.Rejected, BadNumber, f.name, text)
		return geo.Sample{}, false
	}
	if below {
		return geo.Sample{DetectionLimit: geo.Some(v)}, true
	}
	return geo.Sample{Value: geo.Some(v)}, true
}
