package publish

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// ErrForeign is the cause of an error about files that [CSVFiles] and [GeoJSONFiles] did
// not write: those need a mapping.
var ErrForeign = errors.New("it is not what an export writes")

// Read brings back what [CSVFiles], [GeoJSONFiles] or [XLSX] wrote: name is a folder of such
// files, or one of them. Records keep their ids, so that what is there already is not added again.
// A row that cannot be read is listed, as [intake.Read] lists it. Boundaries and rivers are
// read where to is a [Sink], and areas and lines with names from the GeoJSON of other programs
// too. Memory grows with the ids of the records, and with the readings of tests and
// the visits to water points in CSV.
func Read(ctx context.Context, files fs.FS, name string, to intake.Sink, progress intake.Progress) (intake.Summary, error) {
	in := &reader{
		ctx: ctx, files: files, sink: to, progress: progress, tally: map[intake.ReasonCount]int{},
		known: map[string]bool{}, readings: children[geo.TestReading]{}, visits: children[geo.Visit]{},
	}
	names, err := exported(files, name)
	for _, n := range names {
		if err == nil {
			err = in.file(n)
		}
	}
	if err == nil {
		err = errors.Join(unclaimed(in, in.readings), unclaimed(in, in.visits))
	}
	return in.summary(), err
}

// readOrder is the order of the files of a folder: what belongs to something before it,
// where its sink takes it whole, and after it otherwise.
var readOrder = []string{
	"test_readings", "visits", "bores", "layers", "strikes", "levels", "pipes", "fills", "tests", "samples", "villages", "water_points", "boundaries", "rivers",
}

// exported lists the files to read.
func exported(files fs.FS, name string) ([]string, error) {
	info, err := fs.Stat(files, name)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return []string{name}, nil
	}
	for _, ending := range []string{".csv", ".geojson"} {
		var found []string
		for _, n := range readOrder {
			if _, err := fs.Stat(files, path.Join(name, n+ending)); err == nil {
				found = append(found, path.Join(name, n+ending))
			}
		}
		if len(found) > 0 {
			return found, nil
		}
	}
	return nil, foreign(name, ErrForeign)
}

func foreign(name string, err error) error {
	return geo.Fail(geo.Invalid, "publish.Read", geo.Message{}, fmt.Errorf("%s: %w", name, err))
}

// reader takes one export back.
type reader struct {
	ctx      context.Context
	files    fs.FS
	sink     intake.Sink
	progress intake.Progress
	count    intake.Summary
	tally    map[intake.ReasonCount]int
	known    map[string]bool // ids of records
	readings children[geo.TestReading]
	visits   children[geo.Visit]
}

// file reads one file.
func (in *reader) file(name string) error {
	if known, err := in.shapes(name); known || err != nil {
		return err
	}
	if slices.Contains([]string{"boundaries.geojson", "rivers.geojson"}, path.Base(name)) {
		return nil // of no shape
	}
	if strings.EqualFold(path.Ext(name), ".xlsx") {
		return in.book(name)
	}
	t := intake.Table{File: name, Format: "csv", Encoding: "utf-8", Delimiter: ","}
	if strings.EqualFold(path.Ext(name), ".geojson") {
		t.Format = "geojson"
	}
	return in.rows(t, name, path.Base(name))
}

// book reads the sheets of a workbook.
func (in *reader) book(name string) error {
	sheets, err := intake.Sheets(in.files, name)
	if err != nil {
		return foreign(name, err)
	}
	found := false
	for _, sheet := range readOrder {
		if !slices.Contains(sheets, sheet) {
			continue
		}
		found = true
		t := intake.Table{File: name, Format: "xlsx", Sheet: sheet, HeaderRow: 1}
		if err := in.rows(t, sheet, path.Base(name)+" / "+sheet); err != nil {
			return err
		}
	}
	if !found {
		return foreign(name, ErrForeign)
	}
	return nil
}

// rows reads the rows of one table, whose kind is told by its name; label is how people are
// told of it.
func (in *reader) rows(t intake.Table, name, label string) (err error) {
	rows, err := intake.Open(in.files, t)
	if err != nil {
		return foreign(name, err)
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	r := newRow(label, rows.Header(), t.Format != "geojson")
	r.guarded = t.Format == "csv"
	take, err := takerOf(name, r)
	if err != nil {
		return foreign(name, err)
	}
	in.count.Files = append(in.count.Files, intake.FileCount{File: r.file})
	count := &in.count.Files[len(in.count.Files)-1]
	for {
		cells, err := rows.Next()
		if errors.Is(err, io.EOF) {
			in.told(r.file, count.Rows)
			return nil
		}
		count.Rows++
		if t.Format == "xlsx" && len(cells) < len(r.columns) { // a sheet ends its rows at the last cell that holds something
			cells = append(cells, make([]string, len(r.columns)-len(cells))...)
		}
		r.number, r.cells = count.Rows, cells
		in.sink.CountRow(r.file)
		if err = in.row(take, r, count, err); err != nil {
			return err
		}
		if count.Rows%every == 0 {
			in.told(r.file, count.Rows)
			if err := in.ctx.Err(); err != nil {
				return err
			}
		}
	}
}

// every is how many rows pass between two words of progress and looks at the context.
const every = 1000

func (in *reader) told(file string, rows int) {
	if in.progress != nil {
		in.progress(file, rows)
	}
}

// row takes one row, or lists the reason why not.
func (in *reader) row(take taker, r *row, count *intake.FileCount, err error) error {
	var unreadable *intake.RowError
	switch {
	case errors.As(err, &unreadable):
		err = &fault{intake.UnreadableRow, "", unreadable.Err.Error()}
	case err != nil:
		return foreign(r.file, err)
	case r.ragged():
		err = &fault{intake.WrongColumnCount, "", strings.Join(r.cells, ",")}
	default:
		return in.taken(take, r, count)
	}
	var bad *fault
	errors.As(err, &bad)
	count.Rejected++
	return in.list(r, bad)
}

// taken lets a row be taken, and counts it or lists the reason why it was not.
func (in *reader) taken(take taker, r *row, count *intake.FileCount) error {
	err := take(in, r)
	var bad *fault
	if !errors.As(err, &bad) {
		if err == nil {
			count.Applied++
		}
		return err
	}
	count.Rejected++
	return in.list(r, bad)
}

// list tells the sink why a row was not taken.
func (in *reader) list(r *row, bad *fault) error {
	in.tally[intake.ReasonCount{Code: bad.code, Severity: geo.Rejected}]++
	return in.sink.AddIssue(geo.Issue{
		Severity: geo.Rejected, File: r.file, Row: r.number, Column: bad.column, Read: bad.read,
		Message: geo.Say(bad.code, geo.With("field", geo.Text(bad.column)), geo.With("value", geo.Text(bad.read))),
	})
}

func (in *reader) summary() intake.Summary {
	out := in.count
	for _, f := range out.Files {
		out.Rows += f.Rows
		out.Applied += f.Applied
		out.Rejected += f.Rejected
	}
	for r, n := range in.tally {
		r.N = n
		out.Reasons = append(out.Reasons, r)
	}
	slices.SortFunc(out.Reasons, func(a, b intake.ReasonCount) int { return strings.Compare(string(a.Code), string(b.Code)) })
	return out
}
