package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"waterstrike/geo"
)

// visitFields are the fields of a water point that belong to one visit.
var visitFields = []string{"visited", "level", "works", "remarks"}

// column is a field tied to the columns of an open file; -1 where there is none.
type column struct {
	Field
	name                    string // of the column in the file
	at, otherwise, unitAt   int
	decimal, kind, fieldKey string
	missing                 []string
	values                  map[string]string // by lower-case cell text
	n                       int               // of the column within its table, from 0
	spec                    dateSpec
}

// table is a Table tied to the columns of an open file.
type table struct {
	Table
	kind     kind
	header   []string
	key      []int
	when     int
	fields   map[string]*column
	analytes []*column
	place    *place
	columns  int // how many of them
	parts    []*table
	head     []int // columns of the record's own fields, alike in rows that repeat it
}

// place is a Position tied to the columns of an open file.
type place struct {
	Position
	first, second int // lon or east, lat or north; second -1 for a pair
	crs           []crsPart
	missing       []string
	precision     *column
}

// crsPart is a piece of a grid's name: a text, or the column that holds it.
type crsPart struct {
	text string
	at   int
}

// binder finds columns in a header and remembers what it did not find.
type binder struct {
	table  Table
	header []string
	absent []string
	bound  int
}

func (b *binder) find(name string) int {
	if name == "" {
		return -1
	}
	at := slices.IndexFunc(b.header, func(h string) bool { return strings.EqualFold(strings.TrimSpace(h), strings.TrimSpace(name)) })
	if at < 0 && !slices.Contains(b.absent, name) {
		b.absent = append(b.absent, name)
	}
	return at
}

// bind ties a table to a header. Columns that the mapping names and the file lacks are
// an [geo.Invalid] error: nothing of such a file can be trusted.
func bind(t Table, header []string) (*table, error) {
	b := &binder{table: t, header: header}
	out := b.bind(t)
	for _, p := range t.Parts {
		p.File, p.Key, p.Delimiter, p.Decimal = t.File, t.Key, t.Delimiter, t.Decimal
		p.Missing = append(slices.Clone(t.Missing), p.Missing...)
		inner := &binder{table: p, header: header}
		out.parts = append(out.parts, inner.bind(p))
		b.absent = append(b.absent, inner.absent...)
	}
	if len(b.absent) > 0 {
		slices.Sort(b.absent)
		return nil, geo.Fail(geo.Invalid, "intake.Read", geo.Message{}, fmt.Errorf("%s has no column %s; it has %s",
			t.File, strings.Join(b.absent, ", "), strings.Join(header, ", ")))
	}
	return out, nil
}

func (b *binder) bind(t Table) *table {
	header := b.header
	out := &table{Table: t, kind: kinds[t.Kind], header: header, when: -1, fields: map[string]*column{}}
	for _, name := range t.Key {
		out.key = append(out.key, b.find(name))
	}
	if t.When != nil {
		out.when = b.find(t.When.Column)
	}
	for name, f := range t.Fields {
		out.fields[name] = b.column(name, f)
	}
	for _, name := range analytes() {
		if f, mapped := t.Analytes[name]; mapped {
			out.analytes = append(out.analytes, b.column(name, f))
		}
	}
	if t.Position != nil {
		out.place = b.place(*t.Position)
	}
	out.columns = b.bound
	out.head = headOf(out)
	return out
}

// headOf lists the columns that tell the record itself, in order; not those of the visits
// of a water point.
func headOf(t *table) []int {
	at := slices.Clone(t.key)
	for name, f := range t.fields {
		if t.Table.Kind != "water-points" || !slices.Contains(visitFields, name) {
			at = append(at, f.at)
		}
	}
	if t.place != nil {
		at = append(at, t.place.first, t.place.second)
	}
	slices.Sort(at)
	return slices.Compact(slices.DeleteFunc(at, func(i int) bool { return i < 0 }))
}

func (b *binder) column(name string, f Field) *column {
	c := &column{
		Field: f, name: f.Column, at: b.find(f.Column), otherwise: b.find(f.Otherwise), unitAt: b.find(f.UnitColumn),
		decimal: b.table.Decimal, kind: b.table.Kind, fieldKey: name,
		missing: append(slices.Clone(b.table.Missing), f.Missing...), values: map[string]string{}, spec: f.dateSpec(), n: b.bound,
	}
	b.bound++
	if f.Fixed != "" {
		c.name = name
	}
	for from, to := range f.Values {
		c.values[strings.ToLower(from)] = to
	}
	return c
}

var crsColumn = regexp.MustCompile(`\{[^}]*\}`)

func (b *binder) place(p Position) *place {
	out := &place{Position: p, first: b.find(p.Lon + p.East + p.Pair), second: b.find(p.Lat + p.North)}
	out.missing = append(slices.Clone(b.table.Missing), p.Missing...)
	rest := p.CRS
	for _, name := range crsColumn.FindAllString(p.CRS, -1) {
		before, after, _ := strings.Cut(rest, name)
		out.crs = append(out.crs, crsPart{before, -1}, crsPart{"", b.find(strings.Trim(name, "{}"))})
		rest = after
	}
	out.crs = append(out.crs, crsPart{rest, -1})
	if p.Precision != nil {
		out.precision = b.column("precision", *p.Precision)
	}
	return out
}

// accepts reports whether the table takes a row.
func (t *table) accepts(row []string) bool {
	if t.When == nil {
		return true
	}
	text := strings.TrimSpace(row[t.when])
	if len(t.When.In) > 0 {
		return slices.Contains(t.When.In, text)
	}
	return !slices.Contains(t.When.NotIn, text)
}

// columnsOf lists the columns that a table asks for.
func columnsOf(t Table) []string {
	b := &binder{table: t}
	b.bind(t)
	return b.absent
}
