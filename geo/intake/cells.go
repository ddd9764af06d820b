package intake

import (
	"slices"
	"strings"
	"unicode/utf8"

	"waterstrike/geo"
)

// cells reads the fields of one row and gathers what is wrong with them. A cell that
// cannot be read leaves its field missing.
type cells struct {
	table   *table
	row     []string
	number  int // of the row, from 1
	key     string
	carried bool   // the key is the row above's
	record  string // id of the record
	issues  []geo.Issue
	remarks []string // text found in number columns
	blanked map[string]int
	texts   []*string // of the columns read so far: each is read and judged once
}

// report adds an issue about one column.
func (c *cells) report(severity geo.Severity, code geo.Code, column, read string) {
	c.reportValue(severity, code, column, read, read)
}

// reportValue adds an issue whose value is only a part of what was read.
func (c *cells) reportValue(severity geo.Severity, code geo.Code, column, value, read string) {
	c.issues = append(c.issues, geo.Issue{
		Severity: severity, Message: message(code, column, quote(value)),
		File: c.table.File, Row: c.number, Column: column, Read: quote(read), Record: c.record,
	})
}

func quote(text string) string {
	if len(text) <= maxQuote {
		return text
	}
	return strings.ToValidUTF8(text[:maxQuote], "") + "..."
}

// reject lists the whole row.
func (c *cells) reject(code geo.Code, column, read string) {
	c.report(geo.Rejected, code, column, read)
}

// text returns the text of a field, "" when it is missing or not mapped.
func (c *cells) text(name string) string {
	f := c.table.fields[name]
	if f == nil {
		return ""
	}
	return c.cell(f)
}

func (c *cells) cell(f *column) string {
	if c.texts == nil {
		c.texts = make([]*string, c.table.columns)
	}
	if c.texts[f.n] == nil {
		text := c.look(f)
		c.texts[f.n] = &text
	}
	return *c.texts[f.n]
}

func (c *cells) look(f *column) string {
	if f.at < 0 {
		return f.Fixed
	}
	text := c.pick(f, f.at)
	if text == "" && f.otherwise >= 0 {
		text = c.pick(f, f.otherwise)
	}
	return f.replaced(text)
}

// pick reads one cell, without the texts that mean "not known".
func (c *cells) pick(f *column, at int) string {
	text := c.valid(at)
	if f.Part != "" {
		text = cutPart(text, f.Part)
	}
	if text != "" && slices.Contains(f.missing, text) {
		c.blanked[f.kind+"."+f.fieldKey]++
		return ""
	}
	return text
}

// valid returns a trimmed cell; letters lost by a wrong encoding are reported.
func (c *cells) valid(at int) string {
	text := strings.TrimSpace(c.row[at])
	if !utf8.ValidString(text) || strings.ContainsRune(text, utf8.RuneError) {
		text = strings.ToValidUTF8(text, string(utf8.RuneError))
		c.reportEncoding(c.table.header[at], text)
	}
	return text
}

// reportEncoding reports a column once a row: several fields may read it.
func (c *cells) reportEncoding(column, text string) {
	for _, i := range c.issues {
		if i.Message.Code == BadEncoding && i.Column == column {
			return
		}
	}
	c.report(geo.Doubt, BadEncoding, column, text)
}

func (f *column) replaced(text string) string {
	if to, mapped := f.values[strings.ToLower(text)]; mapped {
		return to
	}
	return text
}

// choice returns one of the codes that the field allows, "" when missing.
func (c *cells) choice(name string) string {
	text := c.text(name)
	f := c.table.fields[name]
	if text == "" {
		return ""
	}
	if !f.mapped(text) || !allowed(f.kind, name, text) {
		c.report(geo.Rejected, UnknownValue, f.name, text)
		return ""
	}
	return text
}

// mapped reports that a text stands for something: with a list of values, only what is
// on it does.
func (f *column) mapped(text string) bool {
	for _, to := range f.values {
		if to == text {
			return true
		}
	}
	return len(f.values) == 0
}

// yesNo reads a yes or a no.
func (c *cells) yesNo(name string) geo.Opt[bool] {
	text := c.text(name)
	switch {
	case text == "":
	case isOneOf(text, yesWords):
		return geo.Some(true)
	case isOneOf(text, noWords):
		return geo.Some(false)
	default:
		c.report(geo.Rejected, UnknownValue, c.table.fields[name].name, text)
	}
	return geo.Opt[bool]{}
}

// date reads a date.
func (c *cells) date(name string) geo.Opt[geo.Date] {
	text := c.text(name)
	if text == "" {
		return geo.Opt[geo.Date]{}
	}
	f := c.table.fields[name]
	if otherCalendar.MatchString(text) {
		c.report(geo.Rejected, OtherCalendar, f.name, text)
		return geo.Opt[geo.Date]{}
	}
	if d, ok := readDate(text, f.spec); ok {
		return geo.Some(d)
	}
	c.report(geo.Rejected, BadDate, f.name, text)
	return geo.Opt[geo.Date]{}
}

// months reads a set of months.
func (c *cells) months(name string) geo.Opt[geo.MonthSet] {
	text := c.text(name)
	if text == "" {
		return geo.Opt[geo.MonthSet]{}
	}
	if set, ok := readMonths(text); ok {
		return geo.Some(set)
	}
	c.report(geo.Rejected, UnknownValue, c.table.fields[name].name, text)
	return geo.Opt[geo.MonthSet]{}
}
