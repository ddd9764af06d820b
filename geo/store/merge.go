package store

import (
	"reflect"

	"waterstrike/geo"
)

// merging brings together what a file gave before, what is here and what it gives now.
// What only the file changed is taken, what only people changed stays. Where both did,
// people's value stays, unless the file is to win.
type merging struct {
	fileWins    bool
	taken, kept int // how many values
	fields      []geo.Message
}

// together lists the columns that make one value together with the first of them.
var together = map[string]string{
	"as_read": "geom", "crs": "geom", "operation": "geom", "precision_m": "geom",
	"ground_datum": "ground_m", "ground_source": "ground_m", "currency": "cost",
}

// follows tells the columns that say where in which file a record stands: no value of it.
func follows(column string) bool {
	return column == "batch" || column == "source_file" || column == "source_row"
}

// triple is a row, or a stretch of it, as it was before, is here, and is in the file.
type triple struct{ base, here, file []any }

func (t triple) cut(from, to int) triple {
	return triple{t.base[from:to], t.here[from:to], t.file[from:to]}
}

// merge returns the record to keep, and what counts as given by the file from now on: its
// values, but where people's stayed the former ones, so that the same file asks again. A
// nil base means that nobody knows what the file gave before; whatever is here then counts
// as written by people.
func merge[T any](m *merging, r record[T], base *T, here, file T) (merged, given T, err error) {
	rows, err := triples(r, base, here, file)
	if err != nil {
		return merged, given, err
	}
	columns := r.columns()
	keep, give := make([]any, 0, len(columns)), make([]any, 0, len(columns))
	for from := 0; from < len(columns); {
		to := from + 1
		for to < len(columns) && together[columns[to]] == columns[from] {
			to++
		}
		k, g := m.value(r.name, columns[from:to], rows.cut(from, to))
		keep, give, from = append(keep, k...), append(give, g...), to
	}
	for _, p := range r.parts {
		if err := p.merge(m, base, &here, &file, &merged, &given); err != nil {
			return merged, given, err
		}
	}
	for i, c := range columns {
		if follows(c) && m.taken > 0 {
			keep[i] = rows.file[i]
		}
	}
	if err := r.take(&merged, keep); err != nil {
		return merged, given, err
	}
	return merged, given, r.take(&given, give)
}

// triples returns the rows of a record. Where the former one is not known, what is blank
// here counts as blank before.
func triples[T any](r record[T], base *T, here, file T) (t triple, err error) {
	if t.here, err = r.values(nil, &here); err != nil {
		return t, err
	}
	if t.file, err = r.values(nil, &file); err != nil {
		return t, err
	}
	if base != nil {
		t.base, err = r.values(nil, base)
		return t, err
	}
	t.base = make([]any, len(t.here))
	for i, cell := range t.here {
		if cell == "unknown" {
			t.base[i] = cell
		}
	}
	return t, nil
}

// value decides on one value, which may stand in several columns.
func (m *merging) value(table string, columns []string, t triple) (keep, give []any) {
	switch m.decide(follows(columns[0]) || reflect.DeepEqual(t.file, t.here) || reflect.DeepEqual(t.file, t.base), reflect.DeepEqual(t.base, t.here)) {
	case leave:
		return t.here, t.file
	case take:
		m.tell("difference.value", table, columns, t)
		return t.file, t.file
	case overrule:
		m.tell("difference.overruled", table, columns, t)
		return t.file, t.file
	}
	m.tell("difference.kept", table, columns, t)
	return t.here, t.base
}

// ruling is what becomes of one value.
type ruling int

const (
	leave    ruling = iota // the file says nothing new
	take                   // the file's
	keep                   // people's, against the file's
	overrule               // the file's, against people's
)

// decide rules on a value: nothing new in the file, or untouched here since.
func (m *merging) decide(nothingNew, untouched bool) ruling {
	switch {
	case nothingNew:
		return leave
	case untouched:
		m.taken++
		return take
	case m.fileWins:
		m.taken++
		return overrule
	}
	m.kept++
	return keep
}

// tell tells each column of a value that differs.
func (m *merging) tell(code geo.Code, table string, columns []string, t triple) {
	for i, c := range columns {
		if reflect.DeepEqual(t.here[i], t.file[i]) {
			continue
		}
		former := t.here[i]
		args := []geo.Arg{geo.With("column", columnName(c))}
		if code != "difference.value" {
			former = t.base[i]
			args = append(args, geo.With("hand", shown(table, c, t.here[i])))
		}
		m.fields = append(m.fields, geo.Say(code, append(args, geo.With("former", shown(table, c, former)), geo.With("now", shown(table, c, t.file[i])))...))
	}
}
