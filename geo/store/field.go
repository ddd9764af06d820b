package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"waterstrike/geo"
)

// field is one column of a table and the part of a record that stands in it.
type field[T any] struct {
	column string
	get    func(*T) (any, error) // the value to store; nil is missing
	set    func(*T, any) error   // takes the value as stored; nil is missing
}

// text is a column of words or codes; empty is missing.
func text[T any, S ~string](column string, at func(*T) *S) field[T] {
	return field[T]{
		column,
		func(r *T) (any, error) {
			if *at(r) == "" {
				return nil, nil
			}
			return string(*at(r)), nil
		},
		func(r *T, cell any) (err error) {
			var s string
			s, err = textOf(cell)
			*at(r) = S(s)
			return err
		},
	}
}

// code is a column of codes that a parser reads, such as soil classes; a missing code is
// the zero value.
func code[T any, V interface {
	comparable
	String() string
}](column string, at func(*T) *V, parse func(string) (V, error)) field[T] {
	return field[T]{
		column,
		func(r *T) (any, error) {
			if s := (*at(r)).String(); s != "" {
				return s, nil
			}
			return nil, nil
		},
		func(r *T, cell any) error {
			s, err := textOf(cell)
			if err != nil || s == "" {
				return err
			}
			*at(r), err = parse(s)
			return err
		},
	}
}

// number is a column of numbers that are always there.
func number[T any](column string, at func(*T) *float64) field[T] {
	return field[T]{
		column,
		func(r *T) (any, error) { return finite(*at(r)) },
		func(r *T, cell any) (err error) {
			if cell == nil {
				return nil
			}
			*at(r), err = numberOf(cell)
			return err
		},
	}
}

// count is a column of counts where 0 means none.
func count[T any](column string, at func(*T) *int) field[T] {
	return field[T]{
		column,
		func(r *T) (any, error) {
			if *at(r) == 0 {
				return nil, nil
			}
			return int64(*at(r)), nil
		},
		func(r *T, cell any) error {
			if cell == nil {
				return nil
			}
			n, err := countOf(cell)
			*at(r) = int(n)
			return err
		},
	}
}

// yesNo is a column of yes or no.
func yesNo[T any](column string, at func(*T) *bool) field[T] {
	return field[T]{
		column,
		func(r *T) (any, error) { return bit(*at(r)), nil },
		func(r *T, cell any) error {
			n, err := countOf(cell)
			*at(r) = n != 0
			return err
		},
	}
}

// wordMap is a column of a map, held as a JSON object.
func wordMap[T any](column string, at func(*T) *map[string]string) field[T] {
	return field[T]{
		column,
		func(r *T) (any, error) {
			if len(*at(r)) == 0 {
				return nil, nil
			}
			data, err := json.Marshal(*at(r))
			return string(data), err
		},
		func(r *T, cell any) error {
			s, err := textOf(cell)
			if err != nil || s == "" {
				return err
			}
			return json.Unmarshal([]byte(s), at(r))
		},
	}
}

// maybe is a column of values that may be missing.
func maybe[T, V any](column string, at func(*T) *geo.Opt[V], put func(V) (any, error), take func(any) (V, error)) field[T] {
	return field[T]{
		column,
		func(r *T) (any, error) {
			if v, known := at(r).Get(); known {
				return put(v)
			}
			return nil, nil
		},
		func(r *T, cell any) error {
			if cell == nil {
				return nil
			}
			v, err := take(cell)
			if err == nil {
				*at(r) = geo.Some(v)
			}
			return err
		},
	}
}

// maybeNumber is a column of numbers that may be missing.
func maybeNumber[T any](column string, at func(*T) *geo.Opt[float64]) field[T] {
	return maybe(column, at, finite, numberOf)
}

// maybeCount is a column of counts that may be missing; 0 is a count.
func maybeCount[T any](column string, at func(*T) *geo.Opt[int]) field[T] {
	return maybe(column, at,
		func(n int) (any, error) { return int64(n), nil },
		func(cell any) (int, error) { n, err := countOf(cell); return int(n), err })
}

// maybeYesNo is a column of yes, no or not known.
func maybeYesNo[T any](column string, at func(*T) *geo.Opt[bool]) field[T] {
	return maybe(column, at,
		func(yes bool) (any, error) { return bit(yes), nil },
		func(cell any) (bool, error) { n, err := countOf(cell); return n != 0, err })
}

// maybeDate is a column of dates, as precise as they were written.
func maybeDate[T any](column string, at func(*T) *geo.Opt[geo.Date]) field[T] {
	return maybe(column, at, putDate, dateOf)
}

// inside lifts the fields of a value V into the record that holds it.
func inside[T, V any](at func(*T) *V, fields ...field[V]) []field[T] {
	out := make([]field[T], len(fields))
	for i, f := range fields {
		out[i] = field[T]{
			f.column,
			func(r *T) (any, error) { return f.get(at(r)) },
			func(r *T, cell any) error { return f.set(at(r), cell) },
		}
	}
	return out
}

// insideMaybe lifts the fields of a value that may be missing: it is there when its
// first column is.
func insideMaybe[T, V any](at func(*T) *geo.Opt[V], fields ...field[V]) []field[T] {
	out := make([]field[T], len(fields))
	for i, f := range fields {
		out[i] = field[T]{
			f.column,
			func(r *T) (any, error) {
				v, known := at(r).Get()
				if !known {
					return nil, nil
				}
				return f.get(&v)
			},
			func(r *T, cell any) error {
				v, known := at(r).Get()
				if cell == nil || (i > 0 && !known) {
					return nil
				}
				err := f.set(&v, cell)
				if errors.Is(err, errMissing) {
					return nil
				}
				*at(r) = geo.Some(v)
				return err
			},
		}
	}
	return out
}

func finite(v float64) (any, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("%v is not a number that can be kept", v)
	}
	return v, nil
}

func bit(yes bool) int64 {
	if yes {
		return 1
	}
	return 0
}

func putDate(d geo.Date) (any, error) {
	if d == (geo.Date{}) {
		return nil, fmt.Errorf("a date that is there needs a year")
	}
	return d.String(), nil
}
