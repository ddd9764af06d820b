package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/json"

	"waterstrike/geo"

	"github.com/google/uuid"
)

// Applied is what became, or would become, of the records of a draft.
type Applied struct {
	Batch     string   `json:"batch,omitempty"` // empty when nothing was written
	Added     int      `json:"added"`
	Changed   int      `json:"changed"`
	Same      int      `json:"same"`                // as they were when the file was last read, or as they are here
	Conflicts []string `json:"conflicts,omitempty"` // ids changed both here and in the file: what was changed here stays
	Hidden    int      `json:"hidden"`              // how many of these were deleted here: they stay so
	Absent    int      `json:"absent"`              // that an earlier version of the file gave; they stay
}

// How says how a draft is applied.
type How struct {
	Dataset  string                 // whose files these are; without it nothing is known of earlier versions
	FileWins bool                   // over values that were changed by hand since
	Tell     func(Difference) error // hears of each record that is not as it was; may be nil
	Progress func(done, total int)  // hears how many of all records are done; may be nil
}

// chunk is how many records are compared at a time, and done between two calls of progress.
const chunk = 500

// Apply takes a finished draft into the base, in one transaction: readers see the old
// state until all of it is there, and a failure leaves nothing.
//
// A record that its file gave before is compared with what the file gave then, value by
// value; a list of parts, such as the layers of a bore, is one value. What people corrected
// here since stays corrected, what only the file changed is taken. [Base.TakeBack] undoes
// the whole.
func (b *Base) Apply(ctx context.Context, d *Draft, why Why, how How) (Applied, error) {
	const op = "store.Apply"
	a, done, err := newApplier(ctx, d, how)
	if err != nil {
		return Applied{}, fail(op, err)
	}
	defer done()
	err = b.write(ctx, why, a.batch, func(s *session) error {
		a.s, a.base = s, s.tx
		if err := a.run(); err != nil || a.out.Added+a.out.Changed == 0 {
			return err
		}
		return a.keepBatch()
	})
	if err != nil || a.out.Added+a.out.Changed == 0 {
		return a.out, fail(op, err)
	}
	a.out.Batch = a.batch
	return a.out, nil
}

// Compare tells what [Base.Apply] would do, and does nothing.
func (b *Base) Compare(ctx context.Context, d *Draft, how How) (Applied, error) {
	const op = "store.Compare"
	a, done, err := newApplier(ctx, d, how)
	if err != nil {
		return Applied{}, fail(op, err)
	}
	defer done()
	tx, _, err := b.moment(ctx)
	if err != nil {
		return Applied{}, fail(op, err)
	}
	defer tx.Rollback() //nolint:errcheck // nothing was written
	a.base = tx
	return a.out, fail(op, a.run())
}

// applier is one application of a draft, or one comparison.
type applier struct {
	ctx   context.Context
	how   How
	base  querier
	s     *session // nil: only compared
	from  *sql.Tx
	sum   Summary
	batch string
	again bool // the data set came before
	out   Applied
	done  int
	total int
}

// newApplier reads the draft at one moment, until done is called.
func newApplier(ctx context.Context, d *Draft, how How) (a *applier, done func(), err error) {
	a = &applier{ctx: ctx, how: how, batch: uuid.NewString()}
	if a.sum, err = d.Summary(ctx); err != nil {
		return nil, nil, err
	}
	for _, n := range a.sum.Records {
		a.total += n
	}
	if a.from, err = d.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true}); err != nil {
		return nil, nil, err
	}
	return a, func() { _ = a.from.Rollback() }, nil // nothing was written
}

func (a *applier) run() (err error) {
	if a.again, err = a.cameBefore(); err != nil {
		return err
	}
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
	return nil
}

// applyRecords compares the records of one table with the base, some at a time.
func applyRecords[T any](a *applier, r record[T]) error {
	files := a.fileNames()
	var waiting []T
	flush := func() error {
		err := applyChunk(a, r, waiting, files)
		waiting = waiting[:0]
		return err
	}
	err := eachIn(a.ctx, view{records: a.from}, r, everything, func(_ int64, v T) error {
		if waiting = append(waiting, v); len(waiting) < chunk {
			return nil
		}
		return flush()
	})
	if err == nil {
		err = flush()
	}
	if err != nil {
		return err
	}
	return tellAbsent(a, r, files)
}

// drafted is a record of the draft with what is known of it.
type drafted[T any] struct {
	id     string
	value  T
	digest string
	before gave      // what its file gave last time; no digest: never
	here   stored[T] // what the base holds; fid 0: nothing visible
}

// stored is a record as it is in the base.
type stored[T any] struct {
	fid   int64
	value T
}

func applyChunk[T any](a *applier, r record[T], values []T, files map[string]bool) error {
	if len(values) == 0 {
		return nil
	}
	ids := make([]string, len(values))
	for i := range values {
		ids[i] = r.id(&values[i])
	}
	if err := a.addFiles(r.name, ids, files); err != nil {
		return err
	}
	before, err := a.gaveOf(ids)
	if err != nil {
		return err
	}
	var open []drafted[T] // those that are not just as the file gave them before
	for i, v := range values {
		sum, err := digest(r, v)
		if err != nil {
			return err
		}
		if sum == before[ids[i]].digest {
			a.out.Same++
			continue
		}
		open = append(open, drafted[T]{id: ids[i], value: v, digest: sum, before: before[ids[i]]})
	}
	if err := lookUp(a, r, open); err != nil {
		return err
	}
	for _, v := range open {
		if err := applyOne(a, r, v); err != nil {
			return err
		}
	}
	if a.done += len(values); a.how.Progress != nil {
		a.how.Progress(a.done, a.total)
	}
	return nil
}

// lookUp finds what the base holds of each record.
func lookUp[T any](a *applier, r record[T], list []drafted[T]) error {
	at := map[string]int{}
	ids := make([]string, len(list))
	for i, v := range list {
		at[v.id], ids[i] = i, v.id
	}
	return eachIn(a.ctx, view{records: a.base}, r, these(ids), func(fid int64, v T) error {
		list[at[r.id(&v)]].here = stored[T]{fid, v}
		return nil
	})
}

// applyOne decides what becomes of one record.
func applyOne[T any](a *applier, r record[T], v drafted[T]) error {
	if v.here.fid != 0 {
		return applyMerged(a, r, v)
	}
	if v.before.digest != "" { // hidden here, different in the file
		a.out.Conflicts = append(a.out.Conflicts, v.id)
		a.out.Hidden++
		return a.tell(differenceOf(r, &v.value, StandsHidden, nil))
	}
	a.out.Added++
	if a.again {
		if err := a.tell(differenceOf(r, &v.value, StandsNew, nil)); err != nil {
			return err
		}
	}
	return applyWrite(a, r, v.value, v.digest, nil, func(v T) error { return add(a.s, r, v) })
}

// applyMerged brings together what is here and what the file gives.
func applyMerged[T any](a *applier, r record[T], v drafted[T]) error {
	current, err := digest(r, v.here.value)
	if err != nil {
		return err
	}
	if current == v.digest {
		a.out.Same++
		return nil
	}
	base := &v.here.value
	if current != v.before.digest {
		if base, err = givenBefore(a, r, v.id, v.before); err != nil {
			return err
		}
	}
	m := merging{fileWins: a.how.FileWins}
	merged, given, err := merge(&m, r, base, v.here.value, v.value)
	if err != nil {
		return err
	}
	if m.kept > 0 {
		a.out.Conflicts = append(a.out.Conflicts, v.id)
	}
	if m.taken == 0 {
		if m.kept == 0 {
			a.out.Same++
			return nil
		}
		return a.tell(differenceOf(r, &v.value, StandsKept, m.fields))
	}
	a.out.Changed++
	if err := a.tell(differenceOf(r, &v.value, StandsChanged, m.fields)); err != nil {
		return err
	}
	sum, whole, err := digestGiven(r, given, merged)
	if err != nil {
		return err
	}
	return applyWrite(a, r, merged, sum, whole, func(merged T) error {
		_, err := replace(a.s, r, v.here.fid, v.here.value, merged)
		return err
	})
}

func (a *applier) tell(d Difference) error {
	if a.how.Tell == nil {
		return nil
	}
	return a.how.Tell(d)
}

// applyWrite writes a record as one of the batch and keeps what its file gave.
func applyWrite[T any](a *applier, r record[T], v T, digest string, given any, write func(T) error) error {
	if a.s == nil {
		return nil
	}
	r.source(&v).Batch = a.batch
	if err := write(v); err != nil {
		return err
	}
	_, err := a.s.exec("INSERT INTO imported (record, batch, digest, given) VALUES (?, ?, ?, ?)", r.id(&v), a.batch, []byte(digest), given)
	return err
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
