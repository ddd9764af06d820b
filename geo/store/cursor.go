package store

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
)

// querier is a connection or transaction that reads.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// view is one moment of the base: a transaction, and for long walks a second one of the
// same moment, on which the parts of records are read ahead.
type view struct {
	records querier
	ahead   querier // nil: parts are read on the first, as they are needed
	past    bool    // the record @record as it was after the change @since
}

// table is SQL for a table at the moment of the view.
func (in view) table(l layout, mine string) string {
	if in.past {
		return pastSQL(l, mine)
	}
	return l.name
}

// pick is which records to read: all, or those whose id is in a JSON array.
type pick struct {
	where string
	args  []any
}

var everything = pick{}

// path is how to reach a table from the records it belongs to.
type path struct {
	name  string // of this table, whose alias is t<depth>
	from  string // the FROM clause down to it
	mine  string // what is true of the rows that belong to @record
	order string
	depth int
}

// top is the path to a table of records.
func (in view) top(l layout) path {
	const mine = "id = @record"
	return path{name: l.name, from: in.table(l, mine) + " t0", mine: mine, order: "t0.id"}
}

// down is the path to a table of parts.
func (in view) down(p path, l layout) path {
	n := p.depth + 1
	mine := fmt.Sprintf("%s IN (SELECT fid FROM %s WHERE %s)", l.parent, p.name, p.mine)
	return path{
		name: l.name, mine: mine,
		// CROSS JOIN keeps the order of the records: SQLite then walks their ids once.
		from:  fmt.Sprintf("%s CROSS JOIN %s t%d ON t%d.%s = t%d.fid", p.from, in.table(l, mine), n, n, l.parent, p.depth),
		order: fmt.Sprintf("%s, t%d.fid", p.order, n),
		depth: n,
	}
}

// cursor walks the rows of one table in the order of their records, merging in the rows
// of every table of parts, each walked once in the same order.
type cursor[T any] struct {
	table  *table[T]
	rows   *sql.Rows
	parts  []attacher[T]
	keys   int   // how many cells come before the fields
	cells  []any // the parent's fid, or the row's own, or both; the fields
	ptrs   []any
	parent int64
	fid    int64
	value  T
	done   bool
}

// openCursor starts a walk; the cursor stands before the first row.
func openCursor[T any](ctx context.Context, in view, t *table[T], p path, which pick) (*cursor[T], error) {
	columns := t.selected(p.depth)
	c := &cursor[T]{table: t, keys: len(columns) - len(t.fields), cells: make([]any, len(columns)), ptrs: make([]any, len(columns))}
	for i := range c.cells {
		c.ptrs[i] = &c.cells[i]
	}
	for _, part := range t.parts {
		a, err := part.open(ctx, in, p, which)
		if err != nil {
			c.close()
			return nil, err
		}
		c.parts = append(c.parts, a)
	}
	query := fmt.Sprintf("SELECT %s FROM %s %s ORDER BY %s", strings.Join(columns, ", "), p.from, which.where, p.order)
	var err error
	if c.rows, err = in.records.QueryContext(ctx, query, which.args...); err != nil {
		c.close()
		return nil, err
	}
	return c, nil
}

// selected lists what is read of each row. Every column costs time at millions of rows, so
// only rows that have parts are asked for their own fid.
func (t *table[T]) selected(depth int) []string {
	var names []string
	if t.parent != "" {
		names = append(names, t.parent)
	}
	if t.parent == "" || len(t.parts) > 0 {
		names = append(names, "fid")
	}
	names = append(names, t.columns()...)
	for i, name := range names {
		names[i] = fmt.Sprintf("t%d.%s", depth, name)
	}
	return names
}

// next moves to the next row and gathers its parts; false at the end.
func (c *cursor[T]) next() (bool, error) {
	if !c.rows.Next() {
		c.done = true
		return false, c.rows.Err()
	}
	if err := c.rows.Scan(c.ptrs...); err != nil {
		return false, err
	}
	var zero T
	c.value = zero
	c.parent, _ = c.cells[0].(int64)
	c.fid, _ = c.cells[c.keys-1].(int64)
	if err := c.table.take(&c.value, c.cells[c.keys:]); err != nil {
		return false, err
	}
	for _, a := range c.parts {
		if err := a.attach(c.fid, &c.value); err != nil {
			return false, err
		}
	}
	return true, nil
}

func (c *cursor[T]) close() {
	if c.rows != nil {
		_ = c.rows.Close() // a reading cursor has nothing left to lose
	}
	for _, a := range c.parts {
		a.close()
	}
}
