package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"waterstrike/geo"
)

// saveOne writes one record in its own transaction.
func saveOne[T any](ctx context.Context, b *Base, r record[T], v T, why Why) error {
	return b.write(ctx, why, "", func(s *session) error {
		_, err := save(s, r, v)
		return err
	})
}

// saved says what became of a record that was written.
type saved int

const (
	same saved = iota
	added
	changed
)

// save adds a record or replaces it where it differs.
func save[T any](s *session, r record[T], v T) (saved, error) {
	v, err := ready(r, v)
	if err != nil {
		return same, err
	}
	old, fid, err := find(s.ctx, s.tx, r, r.id(&v))
	if errors.Is(err, sql.ErrNoRows) {
		return added, add(s, r, v)
	}
	if err != nil {
		return same, err
	}
	return replace(s, r, fid, old, v)
}

// ready checks a record before it is written.
func ready[T any](r record[T], v T) (T, error) {
	if err := checkID(r.name, r.id(&v)); err != nil {
		return v, err
	}
	return r.check(v)
}

// add inserts a record with all its parts. One change stands for the whole.
func add[T any](s *session, r record[T], v T) error {
	if s.act == 0 {
		if err := s.begin(); err != nil {
			return err
		}
	}
	if err := s.adding(true); err != nil {
		return err
	}
	_, err := insertRow(s, &r.table, nil, 0, &v)
	return err
}

// insertRow adds a row and the rows of its parts. A nil fid lets the database choose.
func insertRow[T any](s *session, t *table[T], fid any, parent int64, v *T) (int64, error) {
	args, err := t.rowArgs(nil, fid, parent, v)
	if err != nil {
		return 0, err
	}
	result, err := s.execNamed(t.name, func() string { return t.insertSQL(1) }, args...)
	if err != nil {
		return 0, fail("store.write", fmt.Errorf("%s: %w", t.name, err))
	}
	at, err := result.LastInsertId()
	if err != nil {
		return 0, err
	}
	if err := s.touch(t.name, t.geometry(args)); err != nil {
		return 0, err
	}
	for _, p := range t.parts {
		if err := p.insert(s, at, v); err != nil {
			return 0, err
		}
	}
	return at, nil
}

// manyRows is how many rows one statement inserts at most.
const manyRows = 16

// insertRows adds the rows of parts that have no parts of their own, many at a time.
func insertRows[T any](s *session, t *table[T], parent int64, values []T) error {
	for len(values) > 0 {
		n := min(len(values), manyRows)
		var args []any
		for i := range values[:n] {
			var err error
			if args, err = t.rowArgs(args, nil, parent, &values[i]); err != nil {
				return err
			}
		}
		name := fmt.Sprintf("%s %d", t.name, n)
		if _, err := s.execNamed(name, func() string { return t.insertSQL(n) }, args...); err != nil {
			return fail("store.write", fmt.Errorf("%s: %w", t.name, err))
		}
		values = values[n:]
	}
	return nil
}

// replace writes the columns and the lists of parts that differ.
func replace[T any](s *session, r record[T], fid int64, old, v T) (saved, error) {
	if equal, err := alike(old, v); err != nil || equal {
		return same, err
	}
	if err := s.begin(); err != nil {
		return same, err
	}
	values, err := r.values(nil, &v)
	if err != nil {
		return same, err
	}
	if _, err := s.execNamed("update "+r.name, r.updateSQL, append(values, fid)...); err != nil {
		return same, fail("store.write", err)
	}
	if err := s.touch(r.name, r.geometry(values)); err != nil {
		return same, err
	}
	for _, p := range r.parts {
		if err := p.replace(s, fid, &old, &v); err != nil {
			return same, err
		}
	}
	return changed, nil
}

// alike compares two values by what would be kept of them.
func alike(a, b any) (bool, error) {
	x, err := json.Marshal(a)
	if err != nil {
		return false, geo.Fail(geo.Invalid, "store.write", geo.Message{}, err)
	}
	y, err := json.Marshal(b)
	if err != nil {
		return false, geo.Fail(geo.Invalid, "store.write", geo.Message{}, err)
	}
	return bytes.Equal(x, y), nil
}
