package store

import (
	"context"
	"database/sql"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"waterstrike/geo"
)

// recordScripts make the record tables; a draft has the same ones, without history.
var recordScripts = []string{"0002_records.sql", "0008_failed_outcome.sql", "0009_layer_colour.sql", "0013_sitings.sql", "0016_waivers.sql"}

//go:embed draft.sql
var draftSQL string

// A draft is written in one go and read from then on, so it needs no journal: one that
// was not finished is thrown away.
const draftPragmas = "_pragma=busy_timeout(5000)&_pragma=journal_mode(OFF)&_pragma=synchronous(OFF)&_pragma=temp_store(MEMORY)&_pragma=cache_size(-65536)"

// Draft is an import before it is applied: the records read, the rows counted and every
// doubt with its reason. It is for one goroutine.
type Draft struct {
	db   *sql.DB
	s    *session // nil once finished
	rows map[string]int

	behind *behind     // writes what follows
	last   parentKey   // of the part written last
	held   []geo.Layer // of the last bore, to be written together
}

// parentKey is the key looked up last: files list the parts of one bore together.
type parentKey struct {
	key   string
	fid   int64
	known bool // its bore was added
}

// NewDraft starts a draft; [geo.Conflict] when the file exists.
func NewDraft(ctx context.Context, path string) (*Draft, error) {
	const op = "store.NewDraft"
	if _, err := os.Stat(path); err == nil {
		return nil, geo.Fail(geo.Conflict, op, geo.Say("store.exists", geo.With("path", geo.Text(path))), fs.ErrExist)
	}
	db, err := sql.Open("sqlite", dsn(path, draftPragmas))
	if err != nil {
		return nil, fail(op, err)
	}
	db.SetMaxOpenConns(1) // what it wrote is there before it is kept
	if err := makeTables(ctx, db, recordScripts); err != nil {
		return nil, fail(op, errors.Join(err, db.Close()))
	}
	if _, err := db.ExecContext(ctx, draftSQL); err != nil {
		return nil, fail(op, errors.Join(err, db.Close()))
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return nil, fail(op, errors.Join(err, db.Close()))
	}
	return &Draft{db: db, s: newSession(ctx, tx, time.Time{}), rows: map[string]int{}, behind: newBehind()}, nil
}

// OpenDraft opens a draft that was finished, to read it or to apply it. [geo.NotFound] when
// there is no such file, [geo.Conflict] when it was not finished.
func OpenDraft(ctx context.Context, path string) (*Draft, error) {
	const op = "store.OpenDraft"
	if _, err := os.Stat(path); err != nil {
		return nil, geo.Fail(geo.NotFound, op, geo.Say("store.no-draft"), err)
	}
	db, err := sql.Open("sqlite", dsn(path, draftPragmas))
	if err != nil {
		return nil, fail(op, err)
	}
	db.SetMaxOpenConns(1)
	var files int
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM file").Scan(&files); err != nil || files == 0 {
		return nil, geo.Fail(geo.Conflict, op, geo.Say("store.draft-unfinished"), errors.Join(err, db.Close()))
	}
	return &Draft{db: db}, nil
}

// makeTables runs scripts of the migrations.
func makeTables(ctx context.Context, db *sql.DB, scripts []string) error {
	for _, name := range scripts {
		script, err := migrations.ReadFile("migrations/" + name)
		if err != nil {
			return err
		}
		if _, err := db.ExecContext(ctx, string(script)); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// Close ends the work with the file. A draft that was not finished is of no use after.
func (d *Draft) Close() error {
	if d.s != nil {
		_ = d.behind.close()  // what failed was told
		_ = d.s.tx.Rollback() // nothing of it is wanted
		d.s = nil
	}
	return d.db.Close()
}

// writing refuses to add to a draft that is finished.
func (d *Draft) writing(op string) error {
	if d.s == nil {
		return geo.Fail(geo.Conflict, op, geo.Say("store.draft-finished"), nil)
	}
	return nil
}

// CountRow notes that one data row of a file was read.
func (d *Draft) CountRow(file string) { d.rows[file]++ }

// Finish joins the parts to their bores and keeps the draft. A part whose bore is in no
// file is listed and left out.
func (d *Draft) Finish() error {
	const op = "store.Finish"
	if err := d.writing(op); err != nil {
		return err
	}
	for _, step := range []func() error{d.behind.wait, d.writeHeld, d.listUnmatched} {
		if err := step(); err != nil {
			return fail(op, err)
		}
	}
	for name, n := range d.rows {
		if _, err := d.s.exec("INSERT INTO file (name, rows) VALUES (?, ?)", name, n); err != nil {
			return fail(op, err)
		}
	}
	err := errors.Join(d.behind.close(), d.s.tx.Commit())
	d.s = nil
	return fail(op, err)
}

// listUnmatched turns the parts that still wait for their bore into issues.
func (d *Draft) listUnmatched() error {
	rows, err := d.s.tx.QueryContext(d.s.ctx, `SELECT w.layer, w.fid, p.key, w.source_file, w.source_row
		FROM waiting w JOIN parent p ON p.fid = w.parent
		WHERE NOT EXISTS (SELECT 1 FROM bore WHERE fid = w.parent) ORDER BY w.rowid`)
	if err != nil {
		return err
	}
	defer rows.Close() //nolint:errcheck // read to its end or failed
	for rows.Next() {
		var layer, key, file string
		var fid int64
		var row int
		if err := rows.Scan(&layer, &fid, &key, &file, &row); err != nil {
			return err
		}
		err := d.insertIssue(geo.Issue{
			Severity: geo.Rejected, File: file, Row: row, Read: key,
			Message: geo.Say("issue.unmatched-parent", geo.With("value", geo.Text(key)), geo.With("field", geo.Text(file))),
		})
		if err != nil {
			return err
		}
		if _, err := d.s.exec(fmt.Sprintf("DELETE FROM %s WHERE fid = ?", layer), fid); err != nil {
			return err
		}
	}
	return rows.Err()
}
