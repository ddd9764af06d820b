package arrival

import (
	"context"
	"errors"
	"os"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// Apply takes the draft of an arrival into the base, in one step that [Desk.TakeBack]
// undoes. fileWins lets the file's values stand over those that people changed by hand
// since. Then the files are not needed any more, and go.
func (d *Desk) Apply(id, who string, fileWins bool) error {
	if a, err := d.Arrival(id); err != nil || a.Step != Draft {
		return errors.Join(err, d.notNow(a))
	}
	return d.begin(id, Applying, func(ctx context.Context, a Arrival, j *job) error {
		draft, err := store.OpenDraft(ctx, d.draft(id))
		if err != nil {
			return err
		}
		applied, err := d.Base.Apply(ctx, draft, store.Why{Who: who, Reason: a.reason()},
			store.How{Dataset: a.dataset(), FileWins: fileWins, Progress: j.tell})
		if err = errors.Join(err, draft.Close()); err != nil {
			return err
		}
		err = d.change(id, func(a *Arrival) { a.Step, a.Compared, a.Batch = Applied, applied, applied.Batch })
		return errors.Join(err, unwritten("arrival.Apply", os.RemoveAll(d.files(id))), unwritten("arrival.Apply", os.Remove(d.draft(id))))
	})
}

func (d *Desk) notNow(a Arrival) error {
	if a.Step == Draft || a.ID == "" {
		return nil
	}
	return geo.Fail(geo.Conflict, "arrival.Apply", geo.Say("arrival.not-a-draft"), nil)
}

// reason is what the history says an import was for.
func (a Arrival) reason() string {
	if a.Own || a.Mapping.Name == "" {
		return a.Files[0].Name
	}
	return a.Mapping.Name
}

// Imports returns every import that was applied, by this program or from the command line,
// the newest first.
func (d *Desk) Imports(ctx context.Context) ([]Import, error) {
	batches, err := d.Base.Batches(ctx)
	if err != nil {
		return nil, err
	}
	d.mutex.Lock()
	defer d.mutex.Unlock()
	out := make([]Import, len(batches))
	for i, b := range batches {
		out[i] = Import{Batch: b, Doing: d.jobs[b.ID].now(), Failure: d.failed[b.ID]}
	}
	return out, nil
}

// Import is one that was applied.
type Import struct {
	store.Batch
	Doing   Doing       // while it is taken back
	Failure geo.Message // why taking it back came to nothing; its code is empty when it did not
}

// TakeBack starts to undo a whole import: what it added is hidden, what it changed gets its
// former value, what was changed since stays. [geo.NotFound] when there was no such import,
// [geo.Conflict] when it was or is taken back already.
func (d *Desk) TakeBack(ctx context.Context, batch, who string) error {
	imports, err := d.Imports(ctx)
	if err != nil {
		return err
	}
	for _, i := range imports {
		if i.ID == batch {
			return d.takeBack(i, who)
		}
	}
	return geo.Fail(geo.NotFound, "arrival.TakeBack", geo.Say("store.no-batch", geo.With("batch", geo.Text(batch))), nil)
}

func (d *Desk) takeBack(i Import, who string) error {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if i.TakenBack || d.jobs[i.ID] != nil {
		return geo.Fail(geo.Conflict, "arrival.TakeBack", geo.Say("store.batch-taken-back", geo.With("batch", geo.Text(i.ID))), nil)
	}
	j := &job{work: Taking}
	d.jobs[i.ID] = j
	delete(d.failed, i.ID)
	d.work.Go(func() {
		err := d.inTurn(func() error {
			_, err := d.Base.TakeBack(d.life, i.ID, store.Why{Who: who, Reason: "take-back"}, j.tell)
			return err
		})
		d.mutex.Lock()
		if err != nil && d.life.Err() == nil {
			d.failed[i.ID] = told(err)
		}
		d.mutex.Unlock()
		d.finish(i.ID)
	})
	return nil
}
