package store

import (
	"context"
	"fmt"
)

// part is a table of parts, seen from the values of type P they belong to.
type part[P any] interface {
	open(ctx context.Context, q querier, p path, which pick) (attacher[P], error)
	insert(s *session, fid int64, p *P) error
	replace(s *session, fid int64, old, p *P) error
	layouts() []layout
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

func (l *parts[P, T]) open(ctx context.Context, q querier, p path, which pick) (attacher[P], error) {
	c, err := openCursor(ctx, q, &l.table, p.down(l.table.name, l.table.parent), which)
	if err != nil {
		return nil, err
	}
	_, err = c.next()
	return &attached[P, T]{c, l.list}, err
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

// attached is a walk over parts, standing on the next one to hand over.
type attached[P, T any] struct {
	*cursor[T]
	list func(*P) *[]T
}

func (a *attached[P, T]) attach(fid int64, p *P) error {
	for !a.done && a.parent == fid {
		*a.list(p) = append(*a.list(p), a.value)
		if _, err := a.next(); err != nil {
			return err
		}
	}
	return nil
}
