package publish

import (
	"encoding/json"
	"slices"

	"waterstrike/geo"
)

// column is one column of a table of records, and one property of their features. Its
// place in the record's own JSON is what reads it back.
type column[T any] struct {
	name  string // with its unit
	kind  kind
	path  string // members of the JSON, apart by dots; empty for what only tells whose row it is
	need  need
	value func(*T) value
}

// need says when a cell may not be empty.
type need uint8

const (
	never need = iota
	withGroup
	always
)

// text is a column of words as somebody wrote them.
func text[T any, S ~string](name, path string, of func(*T) S) column[T] {
	return column[T]{name, words, path, never, func(r *T) value { return wordsOf(string(of(r))) }}
}

// token is a column of codes and ids.
func token[T any, S ~string](name, path string, of func(*T) S) column[T] {
	return column[T]{name, code, path, never, func(r *T) value { return codeOf(of(r)) }}
}

// figure is a column of numbers that are always there.
func figure[T any](name, path string, of func(*T) float64) column[T] {
	return column[T]{name, number, path, always, func(r *T) value { return numberOf(of(r)) }}
}

// tally is a column of numbers where 0 says that nobody knows.
func tally[T any, N int | float64](name, path string, of func(*T) N) column[T] {
	return column[T]{name, number, path, never, func(r *T) value {
		if n := of(r); n != 0 {
			return numberOf(float64(n))
		}
		return value{}
	}}
}

// flag is a column of yes or no.
func flag[T any](name, path string, of func(*T) bool) column[T] {
	return column[T]{name, yesNo, path, never, func(r *T) value { return boolOf(of(r)) }}
}

// open is a column of values that may be missing.
func open[T, V any](name string, k kind, path string, of func(*T) geo.Opt[V], put func(V) value) column[T] {
	return column[T]{name, k, path, never, func(r *T) value {
		v, known := of(r).Get()
		if !known {
			return value{}
		}
		return put(v)
	}}
}

func openFigure[T any](name, path string, of func(*T) geo.Opt[float64]) column[T] {
	return open(name, number, path, of, numberOf)
}

func openCount[T any](name, path string, of func(*T) geo.Opt[int]) column[T] {
	return open(name, number, path, of, countOf)
}

func openFlag[T any](name, path string, of func(*T) geo.Opt[bool]) column[T] {
	return open(name, yesNo, path, of, boolOf)
}

func openDate[T any](name, path string, of func(*T) geo.Opt[geo.Date]) column[T] {
	return open(name, code, path, of, dateOf)
}

// list is a property that holds the parts of a record in their own JSON.
func list[T, P any](name string, of func(*T) []P) column[T] {
	return column[T]{name, raw, name, never, func(r *T) value {
		parts := of(r)
		if len(parts) == 0 {
			return value{}
		}
		data, err := json.Marshal(parts)
		return value{kind: raw, text: string(data), err: err}
	}}
}

// inside lifts the columns of a value into the record that holds it under path.
func inside[T, V any](path string, at func(*T) V, columns ...column[V]) []column[T] {
	out := make([]column[T], len(columns))
	for i, c := range columns {
		out[i] = column[T]{c.name, c.kind, path + "." + c.path, c.need, func(r *T) value {
			v := at(r)
			return c.value(&v)
		}}
	}
	return out
}

// insideOpen is inside for a value that may be missing: it is there when any of its
// columns is.
func insideOpen[T, V any](path string, at func(*T) geo.Opt[V], columns ...column[V]) []column[T] {
	out := make([]column[T], len(columns))
	for i, c := range columns {
		out[i] = column[T]{c.name, c.kind, path + "." + c.path, min(c.need, withGroup), func(r *T) value {
			v, known := at(r).Get()
			if !known {
				return value{}
			}
			return c.value(&v)
		}}
	}
	return out
}

// namesOf lists the names of columns.
func namesOf[T any](columns []column[T]) []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = c.name
	}
	return out
}

// without leaves columns out by name.
func without[T any](columns []column[T], names ...string) []column[T] {
	return slices.DeleteFunc(slices.Clone(columns), func(c column[T]) bool { return slices.Contains(names, c.name) })
}

// fieldSources is a column of a map, held as JSON.
func fieldSources(p *geo.Provenance) value {
	if len(p.Fields) == 0 {
		return value{}
	}
	data, err := json.Marshal(p.Fields) // sorts the keys
	return value{kind: raw, text: string(data), err: err}
}
