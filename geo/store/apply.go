package store

import (
	"context"
	"database/sql"

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
