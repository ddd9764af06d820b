package store

import (
	"context"
	"errors"
	"fmt"
)

// part is a table of parts, seen from the values of type P they belong to.
type part[P any] interface {
	open(ctx context.Context, in view, p path, which pick) (attacher[P], error)
	insert(s *session, fid int64, p *P) error
	replace(s *session, fid int64, old, p *P) error
	merge(m *merging, base, here, file, merged, given *P) error
	layouts() []layout
	tellers() []rowTeller
}

// attacher hands the rows of a walk to the values they are parts of.
type attacher[P any] interface {
	attach(fid int64, p *P) error
	close()
}

// parts joins values of type T to the list they fill in a P.
type parts[P, T any] struct {
	table table[T]
	list  func(*P) *[]T
}

func (l *parts[P, T]) open(ctx context.Context, in view, p path, which pick) (attacher[P], error) {
	p = in.down(p, l.table.layout())
	if in.ahead != nil {
		if empty, err := isEmpty(ctx, in.ahead, l.table.name); err != nil || empty {
			return none[P]{}, err
		}
		if len(l.table.parts) == 0 {
			return newAhead(ctx, in.ahead, l, p, which)
		}
	}
	c, err := openCursor(ctx, view{records: in.records, past: in.past}, &l.table, p, which)
	if err != nil {
		return nil, err
	}
	a := &attached[P, T]{list: l.list, more: c.part, end: c.close}
	return a, a.move()
}

func (l *parts[P, T]) insert(s *session, fid int64, p *P) error {
	if len(l.table.parts) == 0 {
		return insertRows(s, &l.table, fid, *l.list(p))
	}
	for i := range *l.list(p) {
		if _, err := insertRow(s, &l.table, nil, fid, &(*l.list(p))[i]); err != nil {
			return err
		}
	}
	return nil
}

// replace writes the list anew where it differs.
func (l *parts[P, T]) replace(s *session, fid int64, old, p *P) error {
	was, is := *l.list(old), *l.list(p)
	if len(was)+len(is) == 0 {
		return nil
	}
	if same, err := alike(was, is); err != nil || same {
		return err
	}
	query := fmt.Sprintf("DELETE FROM %s WHERE %s = ?", l.table.name, l.table.parent)
	if _, err := s.exec(query, fid); err != nil {
		return fail("store.write", err)
	}
	return l.insert(s, fid, p)
}

func (l *parts[P, T]) layouts() []layout { return l.table.layouts() }

func (l *parts[P, T]) tellers() []rowTeller { return l.table.tellers() }

// owned is a part and the fid of what it belongs to.
type owned[T any] struct {
	parent int64
	value  T
}

// part moves to the next row and returns it as a part.
func (c *cursor[T]) part() (owned[T], bool, error) {
	ok, err := c.next()
	return owned[T]{c.parent, c.value}, ok, err
}

// attached is a walk over parts, standing on the next one to hand over.
type attached[P, T any] struct {
	list func(*P) *[]T
	more func() (owned[T], bool, error)
	end  func()
	here owned[T]
	ok   bool
}

func (a *attached[P, T]) move() (err error) {
	a.here, a.ok, err = a.more()
	return err
}

func (a *attached[P, T]) attach(fid int64, p *P) error {
	for a.ok && a.here.parent == fid {
		*a.list(p) = append(*a.list(p), a.here.value)
		if err := a.move(); err != nil {
			return err
		}
	}
	return nil
}

func (a *attached[P, T]) close() { a.end() }

// none stands for an empty table, which a long walk need not search for every record.
type none[P any] struct{}

func (none[P]) attach(int64, *P) error { return nil }
func (none[P]) close()                 {}

func isEmpty(ctx context.Context, q querier, table string) (bool, error) {
	rows, err := q.QueryContext(ctx, fmt.Sprintf("SELECT 1 FROM %s LIMIT 1", table))
	if err != nil {
		return false, err
	}
	empty := !rows.Next()
	return empty, errors.Join(rows.Err(), rows.Close())
}
