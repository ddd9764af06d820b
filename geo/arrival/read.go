package arrival

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// Read looks at the columns with what a person decided and, where nothing is open any more,
// reads the files into a draft.
func (d *Desk) Read(id string, decided Decided) error {
	return d.begin(id, Looking, func(ctx context.Context, a Arrival, j *job) error {
		if err := d.match(ctx, a, decided); err != nil {
			return err
		}
		a, err := d.Arrival(id)
		if err != nil {
			return err
		}
		m, err := a.ready()
		if err != nil {
			return err
		}
		j.turnTo(Reading)
		return d.fill(ctx, a, j, func(draft *store.Draft) (intake.Summary, error) {
			known, err := d.Known(ctx)
			if err != nil {
				return intake.Summary{}, err
			}
			return intake.ReadWith(ctx, known, m, FilesOf(d.files(id)), draft, j.rows())
		})
	})
}

// ready is the mapping as it would be loaded from a file; [geo.Invalid] where a person has
// still something to say.
func (a Arrival) ready() (intake.Mapping, error) {
	for _, f := range a.Report.Files {
		if columns := a.Lacks()[f.File]; len(columns) > 0 {
			return intake.Mapping{}, geo.Fail(geo.Invalid, "arrival.Read",
				geo.Say("arrival.no-unit", geo.With("value", geo.Text(strings.Join(columns, ", "))), geo.With("file", geo.Text(f.File))), nil)
		}
	}
	if len(a.Mapping.Tables) == 0 {
		return intake.Mapping{}, geo.Fail(geo.Invalid, "arrival.Read", geo.Say("arrival.no-tables"), nil)
	}
	data, err := json.Marshal(a.Mapping)
	if err != nil {
		return intake.Mapping{}, geo.Fail(geo.Internal, "arrival.Read", geo.Message{}, err)
	}
	return intake.LoadMapping(bytes.NewReader(data))
}

// rows counts the rows of all files.
func (j *job) rows() intake.Progress {
	before, last, file := 0, 0, ""
	return func(of string, rows int) {
		if of != file {
			before, file = before+last, of
		}
		last = rows
		j.tell(before+rows, 0)
	}
}

// fill makes the draft of an arrival and tells what it holds.
func (d *Desk) fill(ctx context.Context, a Arrival, j *job, read func(*store.Draft) (intake.Summary, error)) error {
	path := d.draft(a.ID)
	if err := os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return unwritten("arrival.Read", err)
	}
	draft, err := store.NewDraft(ctx, path)
	if err != nil {
		return err
	}
	defer draft.Close() //nolint:errcheck // finished, or of no use
	if a.Read, err = read(draft); err != nil {
		return err
	}
	if err := draft.Finish(); err != nil {
		return err
	}
	return d.account(ctx, a, draft)
}

// shownDifferences is how many records that are not as they were are told one by one.
const shownDifferences = 30

// account keeps what a draft holds and how it stands to the base.
func (d *Desk) account(ctx context.Context, a Arrival, draft *store.Draft) (err error) {
	sum, err := draft.Summary(ctx)
	if err != nil {
		return err
	}
	a.Held = sum.Records
	if a.Lost, err = lost(ctx, draft, a.Read); err != nil {
		return err
	}
	a.Shown, a.More = nil, 0
	a.Compared, err = d.Base.Compare(ctx, draft, store.How{Dataset: a.dataset(), Tell: func(diff store.Difference) error {
		if len(a.Shown) < shownDifferences {
			a.Shown = append(a.Shown, diff)
		} else {
			a.More++
		}
		return nil
	}})
	if err != nil {
		return err
	}
	return d.change(a.ID, func(kept *Arrival) {
		kept.Step, kept.Own, kept.Read, kept.Held, kept.Lost = Draft, a.Own, a.Read, a.Held, a.Lost
		kept.Compared, kept.Shown, kept.More = a.Compared, a.Shown, a.More
	})
}

// dataset is whose earlier versions are compared; records of this program's own carry
// their ids.
func (a Arrival) dataset() string {
	if a.Own {
		return ""
	}
	return a.Decided.Dataset
}

// lost counts rows that were read but whose bore the draft did not find; those that the
// intake refused itself stand among the draft's issues too.
func lost(ctx context.Context, draft *store.Draft, read intake.Summary) (n int, err error) {
	for _, reason := range read.Reasons {
		if reason.Code == intake.UnmatchedParent {
			n -= reason.N
		}
	}
	return n, draft.Issues(ctx, func(i geo.Issue) error {
		if i.Message.Code == intake.UnmatchedParent {
			n++
		}
		return nil
	})
}
