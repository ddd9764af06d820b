package features

import (
	"iter"
	"strconv"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Column is one property of records; exactly one of its functions is set. What is missing
// is an unknown Opt, no words, or no day.
type Column[T any] struct {
	Name   string
	Text   func(T) string
	Number func(T) geo.Opt[float64]
	Short  func(T) geo.Opt[float32] // a number kept in few bytes
	Whole  func(T) geo.Opt[int]
	Flag   func(T) geo.Opt[bool]
	Day    func(T) geo.Date
}

// Table makes features of records.
type Table[T any] struct {
	Collection
	ID      func(T) string
	At      func(T) orb.Point
	On      func(T) geo.Date // nil: they have no day
	Columns []Column[T]
}

// Described is the collection, with a property for each column.
func (t *Table[T]) Described() Collection {
	c := t.Collection
	c.Dated = t.On != nil
	for _, column := range t.Columns {
		c.Properties = append(c.Properties, Property{column.Name, column.kind()})
	}
	return c
}

func (c *Column[T]) kind() string {
	switch {
	case c.Number != nil, c.Short != nil:
		return "number"
	case c.Whole != nil:
		return "integer"
	case c.Flag != nil:
		return "boolean"
	}
	return "string"
}

// Feature makes a feature of a record.
func (t *Table[T]) Feature(x T) Feature {
	f := Feature{ID: t.ID(x), Place: t.At(x).Bound(), Values: make([]any, len(t.Columns))}
	if t.On != nil {
		f.On = t.On(x)
	}
	for i := range t.Columns {
		f.Values[i] = t.Columns[i].value(x)
	}
	return f
}

func (c *Column[T]) value(x T) any {
	switch {
	case c.Number != nil:
		return known(c.Number(x))
	case c.Short != nil:
		v, there := c.Short(x).Get()
		if !there {
			return nil
		}
		// With the digits that it was written with.
		long, _ := strconv.ParseFloat(strconv.FormatFloat(float64(v), 'f', -1, 32), 64)
		return long
	case c.Whole != nil:
		return known(c.Whole(x))
	case c.Flag != nil:
		return known(c.Flag(x))
	case c.Day != nil:
		if d := c.Day(x); d != (geo.Date{}) {
			return d.String()
		}
		return nil
	}
	if words := c.Text(x); words != "" {
		return words
	}
	return nil
}

func known[V any](v geo.Opt[V]) any {
	if x, there := v.Get(); there {
		return x
	}
	return nil
}

// equal returns what tells whether a record has a value. It makes no feature and leaves
// nothing behind: a million records are gone through for one page.
func (c *Column[T]) equal(text string) func(T) bool {
	number, err := strconv.ParseFloat(text, 64)
	switch {
	case c.Number != nil:
		return func(x T) bool { v, there := c.Number(x).Get(); return there && err == nil && v == number }
	case c.Short != nil:
		return func(x T) bool { v, there := c.Short(x).Get(); return there && err == nil && v == float32(number) }
	case c.Whole != nil:
		return func(x T) bool { v, there := c.Whole(x).Get(); return there && err == nil && float64(v) == number }
	case c.Flag != nil:
		flag, err := strconv.ParseBool(text)
		return func(x T) bool { v, there := c.Flag(x).Get(); return there && err == nil && v == flag }
	case c.Day != nil:
		day, err := geo.ParseDate(text)
		return func(x T) bool { return err == nil && day != (geo.Date{}) && c.Day(x) == day }
	}
	return func(x T) bool { return text != "" && c.Text(x) == text }
}

// Page goes through records for those that are asked for, skips from of them, makes
// features of at most limit, and counts all.
//
//   - Cost: 10 to 50 ns a record, by what is asked; see BenchmarkFeaturePage.
//   - Checked by: TestPageAgainstFeatures.
func (t *Table[T]) Page(records iter.Seq[T], w Where, from, limit int) (page []Feature, total int) {
	keep := t.keep(w)
	for x := range records {
		if keep != nil && !keep(x) {
			continue
		}
		if total >= from && len(page) < limit {
			page = append(page, w.told(t.Feature(x)))
		}
		total++
	}
	return page, total
}

// First makes features of at most limit records, from of them skipped, whatever else is
// asked for.
func (t *Table[T]) First(records iter.Seq[T], w Where, from, limit int) (page []Feature) {
	if limit == 0 {
		return nil
	}
	for x := range records {
		if from--; from >= 0 {
			continue
		}
		if page = append(page, w.told(t.Feature(x))); len(page) == limit {
			break
		}
	}
	return page
}

// told is a feature as it is told: by a square where w says so.
func (w *Where) told(f Feature) Feature {
	if w.Squares != nil {
		f.Place = w.Squares(f.Place.Center())
	}
	return f
}

// All reports that every feature is asked for.
func (w *Where) All() bool {
	return w.Box == nil && w.From == geo.Date{} && w.Until == geo.Date{} && len(w.Equal) == 0
}

// keep returns what tells whether a record is asked for; nil where all are.
func (t *Table[T]) keep(w Where) func(T) bool {
	if w.All() {
		return nil
	}
	var tests []func(T) bool
	for _, e := range w.Equal {
		tests = append(tests, t.Columns[e.Property].equal(e.Value))
	}
	if t.On != nil && (w.From != geo.Date{} || w.Until != geo.Date{}) {
		tests = append(tests, func(x T) bool { return w.During(t.On(x)) })
	}
	switch {
	case w.Box != nil && w.Squares != nil:
		tests = append(tests, func(x T) bool { return Meets(w.Box, w.Squares(t.At(x))) })
	case w.Box != nil:
		tests = append(tests, func(x T) bool { return holds(w.Box, t.At(x)) })
	}
	if len(tests) == 1 {
		return tests[0]
	}
	return func(x T) bool {
		for _, is := range tests {
			if !is(x) {
				return false
			}
		}
		return true
	}
}

// holds is [Meets] for a point.
func holds(box *orb.Bound, at orb.Point) bool {
	if at[1] < box.Min[1] || at[1] > box.Max[1] {
		return false
	}
	if at[0] >= box.Min[0] && at[0] <= box.Max[0] {
		return true
	}
	return Meets(box, at.Bound()) // it may still lie across the antimeridian
}

// Meets reports that a place, which does not cross the antimeridian, meets a box, which
// may. Longitudes -180 and 180 are the same meridian.
func Meets(box *orb.Bound, place orb.Bound) bool {
	if place.Max[1] < box.Min[1] || place.Min[1] > box.Max[1] {
		return false
	}
	west, east := place.Min[0], place.Max[0]
	return meets(box, west, east) || east == 180 && meets(box, -180, -180) || west == -180 && meets(box, 180, 180)
}

// meets reports that longitudes meet those of the box.
func meets(box *orb.Bound, west, east float64) bool {
	if box.Min[0] <= box.Max[0] {
		return east >= box.Min[0] && west <= box.Max[0]
	}
	return east >= box.Min[0] || west <= box.Max[0]
}
