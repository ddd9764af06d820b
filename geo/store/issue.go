package store

import (
	"context"
	"database/sql"
	"encoding/json"

	"waterstrike/geo"
)

const issueColumns = "severity, message, source_file, source_row, source_column, value_read, record"

// AddIssue lists a doubtful value or row.
func (d *Draft) AddIssue(i geo.Issue) error {
	const op = "store.AddIssue"
	if err := d.writing(op); err != nil {
		return err
	}
	return fail(op, d.behind.do(func() error { return d.insertIssue(i) }))
}

func (d *Draft) insertIssue(i geo.Issue) error {
	args, err := issueArgs(i)
	if err == nil {
		_, err = d.s.exec("INSERT INTO issue ("+issueColumns+") VALUES (?, ?, ?, ?, ?, ?, ?)", args...)
	}
	return err
}

// issueArgs is what stands in issueColumns.
func issueArgs(i geo.Issue) ([]any, error) {
	message, err := json.Marshal(i.Message)
	return []any{
		string(i.Severity), string(message), orNull(i.File), orNull(i.Row),
		orNull(i.Column), orNull(i.Read), orNull(i.Record),
	}, err
}

// Issues calls fn with every issue of a draft, by file and row.
func (d *Draft) Issues(ctx context.Context, fn func(geo.Issue) error) error {
	var q querier = d.db
	if d.s != nil {
		if err := d.behind.wait(); err != nil {
			return fail("store.Issues", err)
		}
		q = d.s.tx
	}
	return eachIssue(ctx, q, "", nil, fn)
}

// Issues calls fn with every issue of an import, by file and row.
func (b *Base) Issues(ctx context.Context, batch string, fn func(geo.Issue) error) error {
	return eachIssue(ctx, b.readers, "WHERE batch = ?", []any{batch}, fn)
}

// IssuesOf returns the issues of one record, from every import.
func (b *Base) IssuesOf(ctx context.Context, record string) ([]geo.Issue, error) {
	var out []geo.Issue
	err := eachIssue(ctx, b.readers, "WHERE record = ?", []any{record}, func(i geo.Issue) error {
		out = append(out, i)
		return nil
	})
	return out, err
}

func eachIssue(ctx context.Context, q querier, where string, args []any, fn func(geo.Issue) error) error {
	rows, err := q.QueryContext(ctx, "SELECT "+issueColumns+" FROM issue "+where+
		" ORDER BY source_file, source_row, number", args...)
	if err != nil {
		return fail("store.Issues", err)
	}
	defer rows.Close() //nolint:errcheck // only read from
	for rows.Next() {
		i, err := scanIssue(rows)
		if err != nil {
			return fail("store.Issues", err)
		}
		if err := fn(i); err != nil {
			return err
		}
	}
	return fail("store.Issues", rows.Err())
}

func scanIssue(rows *sql.Rows) (i geo.Issue, err error) {
	var text string
	var row sql.NullInt64
	var file, column, read, record sql.NullString
	if err = rows.Scan(&i.Severity, &text, &file, &row, &column, &read, &record); err != nil {
		return i, err
	}
	i.File, i.Row, i.Column, i.Read, i.Record = file.String, int(row.Int64), column.String, read.String, record.String
	i.Message, err = messageOf(text)
	return i, err
}
