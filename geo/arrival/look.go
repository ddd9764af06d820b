package arrival

import (
	"cmp"
	"context"
	"errors"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// look starts to look at files that were just handed in.
func (d *Desk) look(id string) error {
	return d.begin(id, Looking, func(ctx context.Context, a Arrival, j *job) error {
		if done, err := d.readOwn(ctx, a, j); done || err != nil {
			return err
		}
		given, m, err := d.mappingAmong(a)
		if err != nil {
			return err
		}
		if given != "" {
			return d.change(id, func(a *Arrival) {
				a.Step, a.Given, a.Mapping = Matched, given, m
				a.Decided.Dataset, a.Decided.Office = m.Dataset, m.By
			})
		}
		return d.propose(ctx, a)
	})
}

// Look looks at the files again from the beginning, where that failed.
func (d *Desk) Look(id string) error { return d.look(id) }

// propose keeps what the columns are taken for, by what a person decided.
func (d *Desk) propose(ctx context.Context, a Arrival) error {
	former, err := d.formerName(ctx, a)
	if err != nil {
		return err
	}
	m, report, err := intake.ProposeWith(ctx, FilesOf(d.files(a.ID)), a.names(), a.Decided.Chosen)
	if err != nil && len(report.Files) == 0 {
		return err
	}
	return d.change(a.ID, func(kept *Arrival) {
		kept.Step, kept.Mapping, kept.Report, kept.Decided = Matched, m, report, a.Decided
		kept.Former = former
		if kept.Decided.Dataset == "" {
			kept.Decided.Dataset = cmp.Or(former, m.Dataset)
		}
		kept.Mapping.Dataset, kept.Mapping.Name, kept.Mapping.By = kept.Decided.Dataset, kept.Decided.Dataset, kept.Decided.Office
	})
}

// formerName is the name under which files of these names were last taken in, "" where they
// never were: under another name every record of theirs would come in a second time.
func (d *Desk) formerName(ctx context.Context, a Arrival) (string, error) {
	batches, err := d.Base.Batches(ctx)
	for _, b := range batches {
		if !b.TakenBack && b.Dataset != "" && !slices.ContainsFunc(a.names(), func(n string) bool { return !named(b.Files, n) }) {
			return b.Dataset, err
		}
	}
	return "", err
}

// named tells that a file is among those of an import; sheets stand there as "file / sheet".
func named(files []string, name string) bool {
	return slices.ContainsFunc(files, func(f string) bool { return path.Base(f) == name || strings.HasPrefix(f, name+" / ") })
}

// Match looks at the columns again with what a person decided.
func (d *Desk) Match(id string, decided Decided) error {
	return d.begin(id, Looking, func(ctx context.Context, a Arrival, _ *job) error { return d.match(ctx, a, decided) })
}

func (d *Desk) match(ctx context.Context, a Arrival, decided Decided) error {
	a.Decided = decided
	if a.Given != "" {
		return nil // the mapping file has decided
	}
	return d.propose(ctx, a)
}

// maxMapping is the most that a mapping file may weigh; see [intake.LoadMapping].
const maxMapping = 1 << 20

// mappingAmong finds the mapping file among the files, "" where there is none. Its tables
// must be among them too.
func (d *Desk) mappingAmong(a Arrival) (name string, m intake.Mapping, err error) {
	for _, f := range a.Files {
		if !strings.EqualFold(path.Ext(f.Name), ".json") || f.Bytes > maxMapping {
			continue
		}
		file, err := os.Open(filepath.Join(d.files(a.ID), f.Name))
		if err != nil {
			return "", m, unwritten("arrival.look", err)
		}
		m, err = intake.LoadMapping(file)
		if err = errors.Join(err, file.Close()); err == nil {
			return f.Name, m, a.tablesOf(&m)
		}
	}
	return "", intake.Mapping{}, nil
}

// tablesOf leads a mapping to the files that came with it: folders in its names are those
// of another computer.
func (a Arrival) tablesOf(m *intake.Mapping) error {
	for i := range m.Tables {
		t := &m.Tables[i]
		t.File = path.Base(t.File)
		if !a.has(t.File) {
			return geo.Fail(geo.NotFound, "arrival.look", geo.Say("arrival.file-missing", geo.With("file", geo.Text(t.File))), nil)
		}
	}
	return nil
}

// names lists the files in the order they were handed in.
func (a Arrival) names() []string {
	out := make([]string, len(a.Files))
	for i, f := range a.Files {
		out[i] = f.Name
	}
	return out
}
