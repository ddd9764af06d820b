package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/json"

	"waterstrike/geo"

	"github.com/google/uuid"
)

// Applied is what became of the records of a draft.
type Applied struct {
	Batch     string   `json:"batch,omitempty"` // empty when nothing was written
	Added     int      `json:"added"`
	Changed   int      `json:"changed"`
	Same      int      `json:"same"`                // as they were when the file was last read, or as they are here
	Conflicts []string `json:"conflicts,omitempty"` // ids changed both here and in the file: left as they are here
}

// chunk is how many records are compared at a time, and done between two calls of progress.
const chunk = 500

// Apply takes a finished draft into the base, in one transaction: readers see the old
// state until all of it is there, and a failure leaves nothing.
//
// A record that its file gave before is compared with what the file gave then, so what
// people corrected here since stays corrected. [Base.TakeBack] undoes the whole.
// progress, which may be nil, is told how many of all records are done.
func (b *Base) Apply(ctx context.Context, d *Draft, why Why, progress func(done, total int)) (Applied, error) {
	const op = "store.Apply"
	sum, err := d.Summary(ctx)
	if err != nil {
		return Applied{}, err
	}
	from, err := d.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return Applied{}, fail(op, err)
	}
	defer from.Rollback() //nolint:errcheck // nothing was written
	a := &applier{batch: uuid.NewString(), from: from, progress: progress}
	for _, n := range sum.Records {
		a.total += n
	}
	err = b.write(ctx, why, a.batch, func(s *session) error {
		a.s = s
		return a.run(sum)
	})
	if err != nil || a.out.Added+a.out.Changed == 0 {
		return a.out, fail(op, err)
	}
	a.out.Batch = a.batch
	return a.out, nil
}

// applier is one application of a draft.
type applier struct {
	s           *session
	from        *sql.Tx
	batch       string
	out         Applied
	done, total int
	progress    func(done, total int)
}

func (a *applier) run(sum Summary) error {
	for _, step := range []func() error{
		func() error { return applyRecords(a, boundaries) },
		func() error { return applyRecords(a, rivers) },
		func() error { return applyRecords(a, villages) },
		func() error { return applyRecords(a, waterPoints) },
		func() error { return applyRecords(a, bores) },
	} {
		if err := step(); err != nil {
			return err
		}
	}
	if a.out.Added+a.out.Changed == 0 {
		return nil
	}
	return a.keepBatch(sum)
}

// applyRecords compares the records of one table with the base, some at a time.
func applyRecords[T any](a *applier, r record[T]) error {
	var waiting []T
	flush := func() error {
		err := applyChunk(a, r, waiting)
		waiting = waiting[:0]
		return err
	}
	err := eachIn(a.s.ctx, view{records: a.from}, r, everything, func(_ int64, v T) error {
		if waiting = append(waiting, v); len(waiting) < chunk {
			return nil
		}
		return flush()
	})
	if err != nil {
		return err
	}
	return flush()
}

// stored is a record as it is in the base.
type stored[T any] struct {
	fid   int64
	value T
}

func applyChunk[T any](a *applier, r record[T], values []T) error {
	ids := make([]string, len(values))
	for i := range values {
		ids[i] = r.id(&values[i])
	}
	here := map[string]stored[T]{}
	err := eachIn(a.s.ctx, view{records: a.s.tx}, r, these(ids), func(fid int64, v T) error {
		here[r.id(&v)] = stored[T]{fid, v}
		return nil
	})
	if err != nil {
		return err
	}
	before, err := a.digests(ids)
	if err != nil {
		return err
	}
	for i, v := range values {
		if err := applyOne(a, r, v, here[ids[i]], before[ids[i]]); err != nil {
			return err
		}
	}
	a.done += len(values)
	if a.progress != nil && len(values) > 0 {
		a.progress(a.done, a.total)
	}
	return nil
}

// applyOne decides what becomes of one record: here is what the base holds (fid 0:
// nothing visible), before the digest of what its file gave last time (empty: never).
func applyOne[T any](a *applier, r record[T], v T, here stored[T], before string) error {
	now, err := digest(r, v)
	if err != nil {
		return err
	}
	if now == before {
		a.out.Same++
		return nil
	}
	if here.fid == 0 {
		if before != "" { // hidden here, different in the file
			a.out.Conflicts = append(a.out.Conflicts, r.id(&v))
			return nil
		}
		a.out.Added++
		return applyWrite(a, r, v, now, func(v T) error { return add(a.s, r, v) })
	}
	current, err := digest(r, here.value)
	switch {
	case err != nil:
		return err
	case current == now:
		a.out.Same++
		return nil
	case before != "" && current != before:
		a.out.Conflicts = append(a.out.Conflicts, r.id(&v))
		return nil
	}
	a.out.Changed++
	return applyWrite(a, r, v, now, func(v T) error {
		_, err := replace(a.s, r, here.fid, here.value, v)
		return err
	})
}

// applyWrite writes a record as one of the batch and keeps its digest.
func applyWrite[T any](a *applier, r record[T], v T, digest string, write func(T) error) error {
	r.source(&v).Batch = a.batch
	if err := write(v); err != nil {
		return err
	}
	_, err := a.s.exec("INSERT INTO imported (record, batch, digest) VALUES (?, ?, ?)", r.id(&v), a.batch, []byte(digest))
	return err
}

// digests returns what the files gave last time, by record id.
func (a *applier) digests(ids []string) (map[string]string, error) {
	list, err := json.Marshal(ids)
	if err != nil {
		return nil, err
	}
	rows, err := a.s.tx.QueryContext(a.s.ctx, `SELECT record, digest FROM imported
		WHERE record IN (SELECT value FROM json_each(?)) ORDER BY number`, string(list))
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // only read from
	out := map[string]string{}
	for rows.Next() {
		var id string
		var sum []byte
		if err := rows.Scan(&id, &sum); err != nil {
			return nil, err
		}
		out[id] = string(sum) // the last one counts
	}
	return out, rows.Err()
}

// digest is the mark of what a record says, not of where in which file it stood.
func digest[T any](r record[T], v T) (string, error) {
	source := r.source(&v)
	source.Batch, source.File, source.Row = "", "", 0
	data, err := json.Marshal(v)
	if err != nil {
		return "", geo.Fail(geo.Invalid, "store.Apply", geo.Message{}, err)
	}
	sum := sha256.Sum256(data)
	return string(sum[:16]), nil
}
