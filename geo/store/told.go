package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"

	"waterstrike/geo"
)

// Deed is what an entry did to its record.
type Deed string

// The deeds.
const (
	DidAdd    Deed = "add" // brought it in, or back
	DidChange Deed = "change"
	DidHide   Deed = "hide"
)

// Telling is an entry of a history with what it did in words.
type Telling struct {
	Entry
	Did  Deed          `json:"did"`
	Told []geo.Message `json:"told,omitempty"` // each value that it changed, former and new
}

// Told returns the history of a record as [Base.History] does, with each value that was
// changed, as it was and as it became. What came and went with the whole record is not told
// value by value.
func (b *Base) Told(ctx context.Context, id string) ([]Telling, error) {
	const op = "store.Told"
	tx, _, err := b.moment(ctx)
	if err != nil {
		return nil, fail(op, err)
	}
	defer tx.Rollback() //nolint:errcheck // nothing was written
	entries, err := historyIn(ctx, tx, id)
	if err != nil {
		return nil, err
	}
	t, err := newTeller(ctx, tx, id)
	if err != nil {
		return nil, fail(op, err)
	}
	out := make([]Telling, len(entries))
	for i, e := range entries {
		out[i] = Telling{Entry: e, Did: deedOf(e)}
		if out[i].Did != DidChange {
			continue
		}
		if out[i].Told, err = t.tell(e); err != nil {
			return nil, fail(op, err)
		}
	}
	return out, nil
}

func deedOf(e Entry) Deed {
	for _, c := range e.Changes {
		switch {
		case !slices.Contains(recordLayers(), c.Table):
		case c.Action == "insert":
			return DidAdd
		case c.Action == "delete":
			return DidHide
		}
	}
	return DidChange
}

// teller knows every change of the rows of one record.
type teller struct {
	ctx  context.Context
	tx   *sql.Tx
	rows []row // by seq
}

func newTeller(ctx context.Context, tx *sql.Tx, id string) (*teller, error) {
	rows, err := tx.QueryContext(ctx, "SELECT seq, layer, fid, action, former FROM change WHERE record = ? ORDER BY seq", id)
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // only read from
	t := &teller{ctx: ctx, tx: tx}
	for rows.Next() {
		var r row
		if err := rows.Scan(&r.seq, &r.layer, &r.fid, &r.action, &r.former); err != nil {
			return nil, err
		}
		t.rows = append(t.rows, r)
	}
	return t, rows.Err()
}

// tell compares, table by table, the rows before an entry with those after it.
func (t *teller) tell(e Entry) ([]geo.Message, error) {
	first, last := e.Changes[0].Seq, e.Seq
	m := &merging{}
	for _, l := range allTellers() {
		var was, is [][]any
		for i, r := range t.rows {
			if r.layer != l.name() || r.seq < first || r.seq > last {
				continue
			}
			if r.action != "insert" {
				cells, err := t.cells(l.layout(), r.former)
				if err != nil {
					return nil, err
				}
				was = append(was, cells)
			}
			if r.action != "delete" {
				cells, err := t.after(l.layout(), i)
				if err != nil {
					return nil, err
				}
				is = append(is, cells)
			}
		}
		if err := l.tell(m, was, is); err != nil {
			return nil, err
		}
	}
	return m.fields, nil
}

// after is the row as change i left it: as the next change of it found it, or as it is now.
func (t *teller) after(l layout, i int) ([]any, error) {
	for _, r := range t.rows[i+1:] {
		if r.layer == t.rows[i].layer && r.fid == t.rows[i].fid {
			return t.cells(l, r.former)
		}
	}
	query := fmt.Sprintf("SELECT %s FROM %s WHERE fid = ?", strings.Join(l.columns, ", "), l.name)
	return t.scan(l, query, t.rows[i].fid)
}

// cells reads the columns out of a former value.
func (t *teller) cells(l layout, former sql.NullString) ([]any, error) {
	values := make([]string, len(l.columns))
	for i, c := range l.columns {
		values[i] = kept("?1", c)
	}
	return t.scan(l, "SELECT "+strings.Join(values, ", "), former.String)
}

func (t *teller) scan(l layout, query string, args ...any) ([]any, error) {
	cells, at := make([]any, len(l.columns)), make([]any, len(l.columns))
	for i := range cells {
		at[i] = &cells[i]
	}
	err := t.tx.QueryRowContext(t.ctx, query, args...).Scan(at...)
	if errors.Is(err, sql.ErrNoRows) { // the row is gone with a change that nobody noted
		return cells, nil
	}
	return cells, err
}
