package arrival

import (
	"context"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// Finding is a row of a file with the issues that stand against it.
type Finding struct {
	File   string
	Row    int // 1 = first data row; 0 for the file as a whole
	Header []string
	Cells  []string // as the file has them; none where the row cannot be read again
	Issues []geo.Issue
}

// Sought says which findings are wanted: those of one code and severity, or of any; from
// the nth row with issues, at most Most of them.
type Sought struct {
	Code     geo.Code
	Severity geo.Severity
	From     int
	Most     int
}

func (s Sought) wants(i geo.Issue) bool {
	return (s.Code == "" || s.Code == i.Message.Code) && (s.Severity == "" || s.Severity == i.Severity)
}

// Findings returns rows of a draft with their issues, by file and row, and how many there
// are in all. [geo.Conflict] before the files were read.
func (d *Desk) Findings(ctx context.Context, id string, s Sought) (found []Finding, total int, err error) {
	a, err := d.Arrival(id)
	if err != nil {
		return nil, 0, err
	}
	if a.Step != Draft || a.Doing.Work != "" {
		return nil, 0, geo.Fail(geo.Conflict, "arrival.Findings", geo.Say("arrival.not-a-draft"), nil)
	}
	draft, err := store.OpenDraft(ctx, d.draft(id))
	if err != nil {
		return nil, 0, err
	}
	defer draft.Close() //nolint:errcheck // only read from
	file, row := "", -1
	err = draft.Issues(ctx, func(i geo.Issue) error {
		if !s.wants(i) {
			return nil
		}
		if i.File != file || i.Row != row || total == 0 {
			file, row = i.File, i.Row
			total++
			if total > s.From && len(found) < s.Most {
				found = append(found, Finding{File: i.File, Row: i.Row})
			}
		}
		if n := total - s.From; n > 0 && n <= len(found) {
			found[n-1].Issues = append(found[n-1].Issues, i)
		}
		return nil
	})
	if err != nil {
		return nil, 0, err
	}
	return found, total, d.cells(ctx, a, found)
}

// cells reads the rows again that stand beside the issues. A row that cannot be read stays
// without: its issue says why.
func (d *Desk) cells(ctx context.Context, a Arrival, found []Finding) error {
	wanted := map[string][]int{}
	for _, f := range found {
		if f.Row > 0 {
			wanted[f.File] = append(wanted[f.File], f.Row)
		}
	}
	for _, t := range a.Mapping.Tables {
		rows := wanted[t.Label()]
		if len(rows) == 0 {
			continue
		}
		delete(wanted, t.Label())
		header, read, err := intake.RowsAt(ctx, FilesOf(d.files(a.ID)), t, rows)
		if err != nil {
			return err
		}
		for i := range found {
			if f := &found[i]; f.File == t.Label() {
				f.Header, f.Cells = header, read[f.Row]
			}
		}
	}
	return nil
}
