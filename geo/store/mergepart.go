package store

import (
	"fmt"
	"reflect"
	"slices"

	"waterstrike/geo"
)

// merge decides on a list of parts, which is one value: a log is described as a whole.
func (l *parts[P, T]) merge(m *merging, base, here, file, merged, given *P) error {
	var was []T
	if base != nil {
		was = *l.list(base)
	}
	is, now := *l.list(here), *l.list(file)
	known, err := sameLists(now, is, was)
	if err != nil {
		return err
	}
	untouched, err := sameLists(was, is)
	if err != nil {
		return err
	}
	ruling := m.decide(known, untouched)
	*l.list(merged), *l.list(given) = is, now
	switch ruling {
	case leave:
		return nil
	case overrule:
		m.fields = append(m.fields, geo.Say("difference.list-overruled", geo.With("table", tableName(l.table.name))))
	case keep:
		*l.list(given) = was
		m.fields = append(m.fields, geo.Say("difference.list-kept", geo.With("table", tableName(l.table.name))))
	}
	if ruling != keep {
		*l.list(merged) = now
	}
	return tellRows(m, &l.table, is, now)
}

// sameLists tells whether a list is like any of the others; none and empty are alike.
func sameLists[T any](list []T, others ...[]T) (bool, error) {
	for _, o := range others {
		if len(list)+len(o) == 0 {
			return true, nil
		}
		if same, err := alike(list, o); same || err != nil {
			return same, err
		}
	}
	return false, nil
}

// tellRows tells the rows of a list that differ, those with the same key as one row.
func tellRows[T any](m *merging, t *table[T], was, is []T) error {
	before := map[string][]T{}
	for _, v := range was {
		k, err := t.rowKey(&v)
		if err != nil {
			return err
		}
		before[k] = append(before[k], v)
	}
	for _, v := range is {
		k, err := t.rowKey(&v)
		if err != nil {
			return err
		}
		var old *T
		if same := before[k]; len(same) > 0 {
			old, before[k] = &same[0], same[1:]
		}
		if err := tellRow(m, t, old, &v); err != nil {
			return err
		}
	}
	for _, v := range was {
		k, err := t.rowKey(&v)
		if err != nil {
			return err
		}
		if gone := before[k]; len(gone) > 0 {
			before[k] = gone[1:]
			if err := tellRow(m, t, &gone[0], nil); err != nil {
				return err
			}
		}
	}
	return nil
}

// rowKey is what a row is known by in its list.
func (t *table[T]) rowKey(v *T) (string, error) {
	cells, err := t.values(nil, v)
	if err != nil {
		return "", err
	}
	var key []any
	for i, c := range t.columns() {
		if slices.Contains(t.keys, c) {
			key = append(key, cells[i])
		}
	}
	return fmt.Sprintf("%q", key), nil
}

// tellRow tells how one row differs; nil where there is none.
func tellRow[T any](m *merging, t *table[T], old, new *T) (err error) {
	was, is := make([]any, len(t.fields)), make([]any, len(t.fields))
	if old != nil {
		if was, err = t.values(nil, old); err != nil {
			return err
		}
	}
	if new != nil {
		if is, err = t.values(nil, new); err != nil {
			return err
		}
	}
	name := []geo.Arg{geo.With("table", tableName(t.name)), geo.With("part", t.rowName(old, was, is))}
	say := func(code geo.Code, args ...geo.Arg) {
		m.fields = append(m.fields, geo.Say(code, append(slices.Clone(name), args...)...))
	}
	switch {
	case old == nil:
		say("difference.part-new")
	case new == nil:
		say("difference.part-gone")
		return nil
	case reflect.DeepEqual(was, is):
		if same, err := alike(old, new); same || err != nil {
			return err
		}
		say("difference.part-within")
	}
	for i, c := range t.columns() {
		if !slices.Contains(t.keys, c) && !reflect.DeepEqual(was[i], is[i]) {
			say("difference.part", geo.With("column", columnName(c)), geo.With("former", shown(t.name, c, was[i])), geo.With("now", shown(t.name, c, is[i])))
		}
	}
	return nil
}

// rowName names a row by its interval, or by what it is known by first.
func (t *table[T]) rowName(old *T, was, is []any) geo.Value {
	cells := is
	if old != nil {
		cells = was
	}
	columns := t.columns()
	cell := func(column string) any { return cells[slices.Index(columns, column)] }
	if slices.Contains(columns, "top_m") {
		top, _ := cell("top_m").(float64)
		base, _ := cell("base_m").(float64)
		return geo.MetresRange{Lo: top, Hi: base}
	}
	return shown(t.name, t.keys[0], cell(t.keys[0]))
}
