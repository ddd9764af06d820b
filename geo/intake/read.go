package intake

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/soil"

	"github.com/google/uuid"
)

// Progress is told how far a file has been read, now and then; nil to hear nothing.
type Progress func(file string, rows int)

// every is how many rows pass between two words of progress and looks at the context.
const every = 1000

// run is one intake under way.
type run struct {
	mapping       Mapping
	sink          Sink
	words         *soil.Reader
	known         map[string]soil.Reading // descriptions met before
	unread        map[string]int          // words of descriptions that nobody could read
	above         described
	holes         map[uuid.UUID]geo.Opt[float64]
	seen          map[uuid.UUID]bool
	strikesMapped bool // the mapping says where strikes stand
	boresRead     bool // parts can be checked against bores
	group         group
	head          string // the bore's columns in the row before, in a table with parts
	headKey       string
	point         *point
	places        *places
	lastKey       string // of the record in the row before
	count         Summary
	reasons       map[reason]int
	blanked       map[string]int
}

// Read reads every table of a mapping from files into sink: villages first, then
// bores, then the rest in the order of the mapping. Memory stays flat but for the ids of bores and
// places and the rows of one bore. On an error or a cancelled context the summary says
// what was read until then; what to do with it is the sink's business.
func Read(ctx context.Context, m Mapping, files fs.FS, sink Sink, progress Progress) (Summary, error) {
	return ReadWith(ctx, Known{Words: soil.DefaultReader()}, m, files, sink, progress)
}

// Known is what an office knows before it reads.
type Known struct {
	Words    *soil.Reader  // of descriptions, with a trainer's own words
	Villages []geo.Village // that records without a position may belong to; may be empty
}

// ReadWith is [Read] with what the office knows already.
func ReadWith(ctx context.Context, known Known, m Mapping, files fs.FS, sink Sink, progress Progress) (Summary, error) {
	r := &run{
		mapping: m, sink: sink, words: known.Words, places: newPlaces(known.Villages), known: map[string]soil.Reading{}, unread: map[string]int{},
		strikesMapped: hasStrikes(m.Tables),
		holes:         map[uuid.UUID]geo.Opt[float64]{}, seen: map[uuid.UUID]bool{},
		group: group{texts: map[string]bool{}}, reasons: map[reason]int{}, blanked: map[string]int{},
	}
	for _, tables := range byFile(m.Tables) {
		if err := r.file(ctx, tables, files, progress); err != nil {
			return r.summary(), err
		}
	}
	return r.summary(), nil
}

// byFile gathers the tables of each file: files with villages first, by which records are
// placed, then those with bores, to which parts belong.
func byFile(tables []Table) [][]Table {
	var out [][]Table
	for _, kind := range []string{"villages", "bores", ""} {
		for _, t := range tables {
			has := slices.ContainsFunc(tables, func(o Table) bool { return o.sameRows(t) && o.Kind == kind })
			done := slices.ContainsFunc(out, func(o []Table) bool { return o[0].sameRows(t) })
			if (has || kind == "") && !done {
				same := slices.DeleteFunc(slices.Clone(tables), func(o Table) bool { return !o.sameRows(t) })
				out = append(out, same)
			}
		}
	}
	return out
}

// sameRows reports that two tables read the same rows.
func (t Table) sameRows(o Table) bool { return t.File == o.File && t.Sheet == o.Sheet }

// Label names the rows for people: the file, and the sheet in it.
func (t Table) Label() string {
	if t.Sheet == "" {
		return t.File
	}
	return t.File + " / " + t.Sheet
}

func (r *run) file(ctx context.Context, tables []Table, files fs.FS, progress Progress) (err error) {
	rows, err := Open(files, tables[0])
	if err != nil {
		return geo.Fail(geo.Invalid, "intake.Read", geo.Message{}, fmt.Errorf("%s cannot be opened: %w", tables[0].File, geo.Cause(err)))
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	bound := make([]*table, len(tables))
	for i, t := range tables {
		t.File = t.Label()
		if bound[i], err = bind(t, rows.Header()); err != nil {
			return err
		}
	}
	r.count.Files = append(r.count.Files, fileCount(tables[0].Label(), rows))
	count := &r.count.Files[len(r.count.Files)-1]
	r.lastKey = ""
	for {
		row, err := rows.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err = r.row(bound, count, row, err); err != nil {
			return err
		}
		if count.Rows%every == 0 {
			if progress != nil {
				progress(count.File, count.Rows)
			}
			if err := ctx.Err(); err != nil {
				return err
			}
		}
	}
	if progress != nil {
		progress(count.File, count.Rows)
	}
	r.boresRead = r.boresRead || slices.ContainsFunc(tables, func(t Table) bool { return t.Kind == "bores" })
	return errors.Join(r.flush(), r.flushPoint())
}

func (r *run) tell(issues []geo.Issue) error {
	for _, i := range issues {
		r.reasons[reason{i.Message.Code, i.Severity}]++
		if err := r.sink.AddIssue(i); err != nil {
			return err
		}
	}
	return nil
}
