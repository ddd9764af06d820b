package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"time"

	"waterstrike/geo"
)

// Entry is what was done to a record in one go.
type Entry struct {
	Seq     int64     `json:"seq"` // of its last change; what [Base.Undo] takes
	At      time.Time `json:"at"`
	Who     string    `json:"who,omitempty"`
	Why     string    `json:"why,omitempty"`
	Batch   string    `json:"batch,omitempty"` // the import it was part of
	Outside bool      `json:"outside"`         // by another program; nobody knows who
	Undone  bool      `json:"undone"`          // no longer stands, or undid something
	Changes []Change  `json:"changes"`
}

// Change is what happened to one row: of the record itself or of one of its parts.
type Change struct {
	Seq    int64           `json:"seq"`
	Table  string          `json:"table"`
	Action string          `json:"action"`           // insert, update or delete
	Former json.RawMessage `json:"former,omitempty"` // the row before, by column; none for an insert
}

// History returns everything that was ever done to a record, visible or hidden, the
// first change first.
func (b *Base) History(ctx context.Context, id string) ([]Entry, error) {
	return historyIn(ctx, b.readers, id)
}

func historyIn(ctx context.Context, q querier, id string) ([]Entry, error) {
	rows, err := q.QueryContext(ctx, `SELECT c.seq, c.act, coalesce(a.at, c.at), a.who, a.why, a.batch, c.layer, c.action, c.former, c.undone IS NOT NULL
		FROM change c LEFT JOIN act a ON a.id = c.act WHERE c.record = ? ORDER BY c.seq`, id)
	if err != nil {
		return nil, fail("store.History", err)
	}
	defer rows.Close() //nolint:errcheck // only read from
	var out []Entry
	var last sql.NullInt64
	for rows.Next() {
		e, act, err := scanEntry(rows)
		if err != nil {
			return nil, fail("store.History", err)
		}
		if n := len(out); n > 0 && act == last && out[n-1].At.Equal(e.At) {
			out[n-1].Changes = append(out[n-1].Changes, e.Changes...)
			out[n-1].Seq = e.Seq
		} else {
			out = append(out, e)
		}
		last = act
	}
	return out, fail("store.History", rows.Err())
}

func scanEntry(rows *sql.Rows) (e Entry, act sql.NullInt64, err error) {
	var at string
	var who, why, batch, former sql.NullString
	var c Change
	var undone bool
	if err = rows.Scan(&c.Seq, &act, &at, &who, &why, &batch, &c.Table, &c.Action, &former, &undone); err != nil {
		return e, act, err
	}
	if former.Valid {
		c.Former = json.RawMessage(former.String)
	}
	e = Entry{Seq: c.Seq, Who: who.String, Why: why.String, Batch: batch.String, Outside: !act.Valid, Undone: undone, Changes: []Change{c}}
	e.At, err = time.Parse(stamp, at)
	return e, act, err
}

// Seq returns the number of the last change, 0 when nothing was ever written.
func (b *Base) Seq(ctx context.Context) (int64, error) {
	var seq int64
	err := b.readers.QueryRowContext(ctx, "SELECT coalesce(max(seq), 0) FROM change").Scan(&seq)
	return seq, fail("store.Seq", err)
}

// Changed is what a snapshot has to read again.
type Changed struct {
	Seq    int64        // up to here
	Bores  []geo.BoreID // added, changed, hidden or restored, by id
	Layers []string     // the other kinds of record that were touched, by name
}

// ChangedSince returns what was changed after the change with number seq.
func (b *Base) ChangedSince(ctx context.Context, seq int64) (Changed, error) {
	const op = "store.ChangedSince"
	tx, now, err := b.moment(ctx)
	if err != nil {
		return Changed{}, fail(op, err)
	}
	defer tx.Rollback() //nolint:errcheck // nothing was written
	out := Changed{Seq: now}
	roots := rootLayers()
	others := map[string]bool{}
	rows, err := tx.QueryContext(ctx, "SELECT DISTINCT layer, record FROM change WHERE seq > ? AND record IS NOT NULL ORDER BY record", seq)
	if err != nil {
		return Changed{}, fail(op, err)
	}
	defer rows.Close() //nolint:errcheck // only read from
	for rows.Next() {
		var layer, record string
		if err := rows.Scan(&layer, &record); err != nil {
			return Changed{}, fail(op, err)
		}
		id := geo.BoreID(record)
		switch {
		case roots[layer] != bores.name:
			others[roots[layer]] = true
		case len(out.Bores) == 0 || out.Bores[len(out.Bores)-1] != id:
			out.Bores = append(out.Bores, id)
		}
	}
	for _, layer := range recordLayers() {
		if others[layer] {
			out.Layers = append(out.Layers, layer)
		}
	}
	return out, fail(op, rows.Err())
}
