package store

import (
	"context"
	"fmt"

	"waterstrike/geo"
)

// Summary is what a draft holds.
type Summary struct {
	Files   []FileRows           `json:"files"`   // by name
	Records map[string]int       `json:"records"` // by layer: bore, village, water_point, boundary, river
	Parts   map[string]int       `json:"parts"`   // by table, as they were matched
	Issues  map[geo.Severity]int `json:"issues"`
	Listed  int                  `json:"listed"`  // rows with at least one issue
	Refused int                  `json:"refused"` // rows with a value or record that was not used
}

// FileRows is how many data rows of a file were read.
type FileRows struct {
	Name string `json:"name"`
	Rows int    `json:"rows"`
}

// Summary counts what a finished draft holds.
func (d *Draft) Summary(ctx context.Context) (Summary, error) {
	out := Summary{Records: map[string]int{}, Parts: map[string]int{}, Issues: map[geo.Severity]int{}}
	if d.s != nil {
		return out, geo.Fail(geo.Conflict, "store.Summary", geo.Say("store.draft-unfinished"), nil)
	}
	for _, l := range allLayouts() {
		var n int
		if err := d.db.QueryRowContext(ctx, fmt.Sprintf("SELECT count(*) FROM %s", l.name)).Scan(&n); err != nil {
			return out, fail("store.Summary", err)
		}
		if l.parent == "" {
			out.Records[l.name] = n
		} else if n > 0 {
			out.Parts[l.name] = n
		}
	}
	if err := d.countFiles(ctx, &out); err != nil {
		return out, fail("store.Summary", err)
	}
	return out, fail("store.Summary", d.countIssues(ctx, &out))
}

func (d *Draft) countFiles(ctx context.Context, out *Summary) error {
	rows, err := d.db.QueryContext(ctx, "SELECT name, rows FROM file ORDER BY name")
	if err != nil {
		return err
	}
	defer rows.Close() //nolint:errcheck // only read from
	for rows.Next() {
		var f FileRows
		if err := rows.Scan(&f.Name, &f.Rows); err != nil {
			return err
		}
		out.Files = append(out.Files, f)
	}
	return rows.Err()
}

func (d *Draft) countIssues(ctx context.Context, out *Summary) error {
	for _, severity := range []geo.Severity{geo.Note, geo.Doubt, geo.Rejected} {
		var n int
		if err := d.db.QueryRowContext(ctx, "SELECT count(*) FROM issue WHERE severity = ?", string(severity)).Scan(&n); err != nil {
			return err
		}
		out.Issues[severity] = n
	}
	const listed = "SELECT count(*) FROM (SELECT DISTINCT source_file, source_row FROM issue WHERE source_row IS NOT NULL"
	if err := d.db.QueryRowContext(ctx, listed+")").Scan(&out.Listed); err != nil {
		return err
	}
	return d.db.QueryRowContext(ctx, listed+" AND severity = ?)", string(geo.Rejected)).Scan(&out.Refused)
}
