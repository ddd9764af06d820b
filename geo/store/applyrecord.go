package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/json"

	"waterstrike/geo"

	"golang.org/x/sync/errgroup"
)

// chunk is how many records are compared at a time, and done between two calls of progress.
const chunk = 500

// chunksAhead is how many chunks the reading of a draft may be ahead of their writing.
const chunksAhead = 2

// applyRecords compares the records of one table with the base, some at a time. The draft is
// read in a goroutine of its own, a few chunks ahead of the writing.
func applyRecords[T any](a *applier, r record[T]) error {
	files := a.fileNames()
	chunks := make(chan []drafted[T], chunksAhead)
	both, ctx := errgroup.WithContext(a.ctx)
	both.Go(func() error {
		defer close(chunks)
		return eachChunk(ctx, a.from, r, func(some []drafted[T]) error {
			select {
			case chunks <- some:
				return nil
			case <-ctx.Done():
				return ctx.Err()
			}
		})
	})
	both.Go(func() error {
		for some := range chunks {
			if err := applyChunk(a, r, some, files); err != nil {
				return err
			}
		}
		return nil
	})
	if err := both.Wait(); err != nil {
		return err
	}
	return tellAbsent(a, r, files)
}

// eachChunk calls fn with every record of a draft, some at a time.
func eachChunk[T any](ctx context.Context, from *sql.Tx, r record[T], fn func([]drafted[T]) error) error {
	var waiting []drafted[T]
	err := eachIn(ctx, view{records: from}, r, everything, func(_ int64, v T) error {
		sum, err := digest(r, v)
		if err != nil {
			return err
		}
		if waiting = append(waiting, drafted[T]{id: r.id(&v), value: v, digest: sum}); len(waiting) < chunk {
			return nil
		}
		some := waiting
		waiting = nil
		return fn(some)
	})
	if err != nil || len(waiting) == 0 {
		return err
	}
	return fn(waiting)
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

func applyChunk[T any](a *applier, r record[T], some []drafted[T], files map[string]bool) error {
	ids := make([]string, len(some))
	for i := range some {
		ids[i] = some[i].id
	}
	if err := a.addFiles(r.name, ids, files); err != nil {
		return err
	}
	before, err := a.gaveOf(ids)
	if err != nil {
		return err
	}
	var open []drafted[T] // those that are not just as the file gave them before
	for _, v := range some {
		if v.before = before[v.id]; v.digest == v.before.digest {
			a.out.Same++
			continue
		}
		open = append(open, v)
	}
	if err := lookUp(a, r, open); err != nil {
		return err
	}
	for _, v := range open {
		if err := applyOne(a, r, v); err != nil {
			return err
		}
	}
	if a.done += len(some); a.how.Progress != nil {
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
