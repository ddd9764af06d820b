package intake

import (
	"strings"
	"unicode"

	"waterstrike/geo"
)

// How laboratories write that nothing was found, and that there was too much to count.
var (
	notFoundWords = []string{
		"nd", "n.d.", "n.d", "not detected", "none detected", "bdl", "<dl", "<lod", "<ld", "below detection",
		"non détecté", "non detecte", "non détectée", "absence", "absent", "não detectado", "nao detectado", "ausente", "ausência",
	}
	tooManyWords = []string{
		"tntc", "tnc", "too numerous to count", "uncountable", "incontable", "incomptable", "indénombrable", "incontável", "incontáveis",
	}
)

const (
	// countable is the largest count read off one plate, per 100 mL: what is beyond counting
	// is at least that (common practice of membrane filtration, from memory).
	countable = 200
	// onePer100mL is what a plate without a colony excludes.
	onePer100mL = 1
	counts      = "CFU/100mL"
)

// result reads a figure with its unit, or the unit of the column; "<0.01" and words such
// as ND are kept as below detection, ">200" and TNTC as at least so much.
func (c *cells) result(a geo.Analyte, f *column, text, columnUnit string) (geo.Sample, bool) {
	switch {
	case isOneOf(text, notFoundWords):
		return c.notFound(a, f, text, columnUnit)
	case isOneOf(text, tooManyWords) && a.Unit == counts:
		c.report(geo.Doubt, LowerBound, f.name, text)
		return geo.Sample{Analyte: a.Code, Unit: counts, Value: geo.Some(float64(countable))}, true
	}
	number, below := strings.CutPrefix(text, "<")
	number, beyond := strings.CutPrefix(number, ">")
	number, unit := cutUnit(number)
	v, rest, ok := readNumber(number, f.decimal)
	if !ok || rest != "" || v < 0 && a.Unit != "Cel" {
		c.report(geo.Rejected, BadNumber, f.name, text)
		return geo.Sample{}, false
	}
	if unit == "" {
		unit = columnUnit
	}
	s, ok := c.measured(a, f, unit, text)
	c.doubtAbove(f, v, text, SampleOutOfRange)
	switch {
	case below:
		s.DetectionLimit = geo.Some(v)
	case beyond:
		c.report(geo.Doubt, LowerBound, f.name, text)
		fallthrough
	default:
		s.Value = geo.Some(v)
	}
	return s, ok
}

// cutUnit splits a result before its unit, which may hold figures ("3 mg/L as NO3").
func cutUnit(text string) (number, unit string) {
	at := strings.IndexFunc(text, func(r rune) bool { return unicode.IsLetter(r) || r == '/' || r == '°' })
	if at < 0 {
		return text, ""
	}
	return text[:at], text[at:]
}

// measured makes a sample without a value; read is the cell that the unit belongs to.
func (c *cells) measured(a geo.Analyte, f *column, unit, read string) (geo.Sample, bool) {
	unit, basis, ok := a.ReadUnit(unit)
	if !ok {
		c.report(geo.Rejected, UnknownUnit, f.name, read)
	}
	return geo.Sample{Analyte: a.Code, Unit: unit, Basis: basis}, ok
}

// notFound keeps a result below detection. The limit comes from its own column; a count of
// none in the usual bottle excludes one. Without a limit the result tells nothing and is
// listed.
func (c *cells) notFound(a geo.Analyte, f *column, text, columnUnit string) (geo.Sample, bool) {
	if limit, known := c.limit().Get(); known {
		s, ok := c.measured(a, f, columnUnit, text)
		s.DetectionLimit = geo.Some(limit)
		return s, ok
	}
	if a.Unit == counts {
		return geo.Sample{Analyte: a.Code, Unit: counts, DetectionLimit: geo.Some(float64(onePer100mL))}, true
	}
	c.report(geo.Rejected, NoDetectionLimit, f.name, text)
	return geo.Sample{}, false
}

// limit reads the laboratory's detection limit where the table has a column for it.
func (c *cells) limit() geo.Opt[float64] {
	if c.table.fields["limit"] == nil {
		return geo.Opt[float64]{}
	}
	return c.figure("limit")
}
