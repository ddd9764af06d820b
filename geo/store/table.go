package store

import (
	"fmt"
	"slices"
	"strings"

	"waterstrike/geo"
)

// table says how values of type T stand in one table, one column a field, and their
// parts in others. It is the only description of a table in Go: reading, writing and
// undoing all follow it.
type table[T any] struct {
	name   string
	parent string   // the column that names the row this is a part of; empty for records
	keys   []string // the columns that a part is known by among those of its record
	fields []field[T]
	parts  []part[T]
}

// record is a table of records, each with a permanent id.
type record[T any] struct {
	table[T]
	id     func(*T) string
	label  func(*T) string // what people call it
	source func(*T) *geo.Provenance
	check  func(T) (T, error)
}

func (t *table[T]) columns() []string {
	out := make([]string, len(t.fields))
	for i, f := range t.fields {
		out[i] = f.column
	}
	return out
}

// insertSQL adds rows: fid (or NULL), the parent's fid for parts, the fields.
func (t *table[T]) insertSQL(rows int) string {
	columns := append([]string{"fid"}, t.columns()...)
	if t.parent != "" {
		columns = append([]string{t.parent, "fid"}, t.columns()...)
	}
	row := "(?" + strings.Repeat(", ?", len(columns)-1) + ")"
	return fmt.Sprintf("INSERT INTO %s (%s) VALUES %s%s",
		t.name, strings.Join(columns, ", "), row, strings.Repeat(", "+row, rows-1))
}

// rowArgs appends the arguments of one row of insertSQL.
func (t *table[T]) rowArgs(args []any, fid any, parent int64, v *T) ([]any, error) {
	if t.parent != "" {
		args = append(args, parent)
	}
	return t.values(append(args, fid), v)
}

// updateSQL sets every field of the row with a fid.
func (t *table[T]) updateSQL() string {
	return fmt.Sprintf("UPDATE %s SET %s = ? WHERE fid = ?", t.name, strings.Join(t.columns(), " = ?, "))
}

// values appends what stands in the columns for r.
func (t *table[T]) values(args []any, r *T) ([]any, error) {
	args = slices.Grow(args, len(t.fields))
	for _, f := range t.fields {
		v, err := f.get(r)
		if err != nil {
			return nil, geo.Fail(geo.Invalid, "store.write", geo.Message{},
				fmt.Errorf("%s.%s: %w", t.name, f.column, err))
		}
		args = append(args, v)
	}
	return args, nil
}

// take fills r from the cells of its columns.
func (t *table[T]) take(r *T, cells []any) error {
	for i, f := range t.fields {
		if err := f.set(r, cells[i]); err != nil {
			return fmt.Errorf("%s.%s: %w", t.name, f.column, err)
		}
	}
	return nil
}

// geometry returns what stands in the geometry column of a row that ends in the values of
// the fields, nil where the table has none.
func (t *table[T]) geometry(row []any) any {
	for i, f := range t.fields {
		if f.column == "geom" {
			return row[len(row)-len(t.fields)+i]
		}
	}
	return nil
}

// layout is a table without its Go type: what history and undo need.
type layout struct {
	name    string
	parent  string
	columns []string
}

func (t *table[T]) layout() layout { return layout{t.name, t.parent, t.columns()} }

// layouts describes the table and those of its parts.
func (t *table[T]) layouts() []layout {
	out := []layout{t.layout()}
	for _, p := range t.parts {
		out = append(out, p.layouts()...)
	}
	return out
}
