package store

import (
	"context"
	"database/sql"
	"errors"

	"waterstrike/geo"
)

// TakenBack is what became of the records of an import that was taken back.
type TakenBack struct {
	Hidden    int      `json:"hidden"`              // had been added
	Restored  int      `json:"restored"`            // had been changed
	Conflicts []string `json:"conflicts,omitempty"` // ids changed again since: left as they are
}

// TakeBack undoes a whole import in one transaction: what it added is hidden, what it
// changed gets its former value. [geo.NotFound] when there was no such import,
// [geo.Conflict] when it was taken back before. progress, which may be nil, is told how
// many of all records are done.
func (b *Base) TakeBack(ctx context.Context, batch string, why Why, progress func(done, total int)) (TakenBack, error) {
	var out TakenBack
	err := b.write(ctx, why, "", func(s *session) error {
		act, err := batchAct(s, batch)
		if err != nil {
			return err
		}
		records, err := recordsOf(s, act)
		if err != nil {
			return err
		}
		for i, id := range records {
			if err := takeBackOne(s, batch, act, id, &out); err != nil {
				return err
			}
			if done := i + 1; progress != nil && (done%chunk == 0 || done == len(records)) {
				progress(done, len(records))
			}
		}
		if err := s.begin(); err != nil {
			return err
		}
		_, err = s.exec("UPDATE batch SET taken_back = ? WHERE id = ?", s.act, batch)
		return err
	})
	if err != nil {
		return TakenBack{}, fail("store.TakeBack", err)
	}
	return out, nil
}

func batchAct(s *session, batch string) (int64, error) {
	const op = "store.TakeBack"
	var act int64
	var taken sql.NullInt64
	err := s.queryRow("SELECT act, taken_back FROM batch WHERE id = ?", batch).Scan(&act, &taken)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return 0, geo.Fail(geo.NotFound, op, geo.Say("store.no-batch", geo.With("batch", geo.Text(batch))), err)
	case err == nil && taken.Valid:
		return 0, geo.Fail(geo.Conflict, op, geo.Say("store.batch-taken-back", geo.With("batch", geo.Text(batch))), nil)
	}
	return act, err
}

// recordsOf lists the records an act touched, in the order of their first change.
func recordsOf(s *session, act int64) ([]string, error) {
	rows, err := s.tx.QueryContext(s.ctx, "SELECT record FROM change WHERE act = ? AND record IS NOT NULL GROUP BY record ORDER BY min(seq)", act)
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // only read from
	var out []string
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			return nil, err
		}
		out = append(out, id)
	}
	return out, rows.Err()
}

// takeBackOne undoes what an import did to one record, unless it was changed since.
func takeBackOne(s *session, batch string, act int64, id string, out *TakenBack) error {
	e, err := entryOf(s, id, sql.NullInt64{Int64: act, Valid: true}, "")
	if err != nil {
		return err
	}
	overtaken, err := e.overtaken(s)
	if err != nil {
		return err
	}
	if overtaken {
		out.Conflicts = append(out.Conflicts, id)
		return nil
	}
	if err := e.undo(s); err != nil {
		return err
	}
	if e.added() {
		out.Hidden++
	} else {
		out.Restored++
	}
	_, err = s.exec("DELETE FROM imported WHERE batch = ? AND record = ?", batch, id)
	return err
}
