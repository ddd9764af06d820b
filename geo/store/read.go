package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"waterstrike/geo"
)

// these picks the records with some ids.
func these[S ~string](ids []S) pick {
	list, _ := json.Marshal(ids) // strings always encode
	return pick{"WHERE t0.id IN (SELECT value FROM json_each(?))", []any{string(list)}}
}

// each calls fn with the picked records as they stood at one moment.
func each[T any](ctx context.Context, b *Base, r record[T], which pick, fn func(T) error) error {
	in, done, err := b.view(ctx, which.where == "" && len(r.parts) > 0)
	if err != nil {
		return fail("store.read", err)
	}
	defer done()
	return eachIn(ctx, in, r, which, func(_ int64, v T) error { return fn(v) })
}

// manyTries is how often a second transaction is asked for when writers come between.
const manyTries = 20

// view opens a view of one moment, for a long walk with a second transaction to read
// ahead on. Two transactions see the same records when they see the same last change.
func (b *Base) view(ctx context.Context, long bool) (in view, done func(), err error) {
	first, seq, err := b.moment(ctx)
	if err != nil {
		return view{}, nil, err
	}
	end := func(tx *sql.Tx) { _ = tx.Rollback() } // nothing was written
	for try := 0; long && try < manyTries; try++ {
		second, again, err := b.moment(ctx)
		if err != nil {
			end(first)
			return view{}, nil, err
		}
		if again == seq {
			return view{records: first, ahead: second}, func() { end(first); end(second) }, nil
		}
		end(first)
		first, seq = second, again
	}
	return view{records: first}, func() { end(first) }, nil
}

// moment starts a reading transaction and returns the last change it sees.
func (b *Base) moment(ctx context.Context) (*sql.Tx, int64, error) {
	tx, err := b.readers.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, 0, err
	}
	var seq int64
	if err := tx.QueryRowContext(ctx, "SELECT coalesce(max(seq), 0) FROM change").Scan(&seq); err != nil {
		return nil, 0, errors.Join(err, tx.Rollback())
	}
	return tx, seq, nil
}

// eachIn is each inside a view; fn also gets the row's fid.
func eachIn[T any](ctx context.Context, in view, r record[T], which pick, fn func(int64, T) error) error {
	c, err := openCursor(ctx, in, &r.table, in.top(r.layout()), which)
	if err != nil {
		return fail("store.read", err)
	}
	defer c.close()
	for {
		ok, err := c.next()
		if err != nil {
			return fail("store.read", unreadable(r, c.value, err))
		}
		if !ok || ctx.Err() != nil {
			return ctx.Err()
		}
		v, err := r.check(c.value)
		if err != nil {
			return unreadable(r, c.value, err)
		}
		if err := fn(c.fid, v); err != nil {
			return err
		}
	}
}

// unreadable names the record whose row another program has spoilt.
func unreadable[T any](r record[T], v T, err error) error {
	if id := r.id(&v); id != "" {
		return geo.Fail(geo.Invalid, "store.read",
			geo.Say("store.unreadable-record", geo.With("id", geo.Text(id)), geo.With("layer", geo.Text(r.name))), err)
	}
	return err
}

// find returns the record with an id and its fid; sql.ErrNoRows when there is none.
func find[T any](ctx context.Context, q querier, r record[T], id string) (v T, fid int64, err error) {
	err = eachIn(ctx, view{records: q}, r, these([]string{id}), func(at int64, found T) error {
		v, fid = found, at
		return nil
	})
	if err == nil && fid == 0 {
		err = sql.ErrNoRows
	}
	return v, fid, err
}

func one[T any](ctx context.Context, b *Base, r record[T], id string) (v T, err error) {
	found := false
	err = each(ctx, b, r, these([]string{id}), func(one T) error {
		v, found = one, true
		return nil
	})
	if err == nil && !found {
		return v, geo.Fail(geo.NotFound, "store.read",
			geo.Say("store.no-record", geo.With("id", geo.Text(id)), geo.With("layer", geo.Text(r.name))), nil)
	}
	return v, err
}

// eachText calls fn with every row of a query for one text.
func eachText(ctx context.Context, q querier, query string, fn func(string) error, args ...any) error {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close() //nolint:errcheck // only read from
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return err
		}
		if err := fn(s); err != nil {
			return err
		}
	}
	return rows.Err()
}
