package store

import (
	"reflect"
	"slices"
)

// rowTeller tells how the rows of one table differ.
type rowTeller interface {
	name() string
	layout() layout
	tell(m *merging, was, is [][]any) error
}

// recordTeller tells of the row of a record itself, partTeller of those of its parts.
type (
	recordTeller[T any] struct{ t *table[T] }
	partTeller[T any]   struct{ t *table[T] }
)

func (r recordTeller[T]) name() string   { return r.t.name }
func (r recordTeller[T]) layout() layout { return r.t.layout() }
func (r partTeller[T]) name() string     { return r.t.name }
func (r partTeller[T]) layout() layout   { return r.t.layout() }

// tell compares the row as it was first with what it became last.
func (r recordTeller[T]) tell(m *merging, was, is [][]any) error {
	if len(was) == 0 || len(is) == 0 {
		return nil
	}
	first, last := was[0], is[len(is)-1]
	for i, c := range r.t.columns() {
		if follows(c) || reflect.DeepEqual(first[i], last[i]) {
			continue
		}
		m.tell("difference.value", r.t.name, []string{c}, triple{here: first[i : i+1], file: last[i : i+1]})
	}
	return nil
}

func (r partTeller[T]) tell(m *merging, was, is [][]any) error {
	if len(was)+len(is) == 0 {
		return nil
	}
	before, err := taken(r.t, was)
	if err != nil {
		return err
	}
	now, err := taken(r.t, is)
	if err != nil {
		return err
	}
	return tellRows(m, r.t, before, now)
}

// taken reads rows as values.
func taken[T any](t *table[T], rows [][]any) ([]T, error) {
	out := make([]T, len(rows))
	for i, cells := range rows {
		if err := t.take(&out[i], cells); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// tellers tell of a table and those of its parts.
func (t *table[T]) tellers() []rowTeller {
	own := rowTeller(recordTeller[T]{t})
	if t.parent != "" {
		own = partTeller[T]{t}
	}
	out := []rowTeller{own}
	for _, p := range t.parts {
		out = append(out, p.tellers()...)
	}
	return out
}

// allTellers tell of every table, a record before its parts.
func allTellers() []rowTeller {
	return slices.Concat(bores.tellers(), villages.tellers(), waterPoints.tellers(), boundaries.tellers(), rivers.tellers(), sitings.tellers())
}
