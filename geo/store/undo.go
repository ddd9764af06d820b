package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"waterstrike/geo"
)

// row is one change as it is kept.
type row struct {
	seq    int64
	layer  string
	fid    int64
	action string
	former sql.NullString
	undone sql.NullInt64
}

// entry is everything one act did to one record, the last change first.
type entry struct {
	record string
	act    sql.NullInt64
	rows   []row
}

// What an act did to a record is found by the record. The + keeps SQLite from looking by
// the act, which may be an import that did something to every record.
const (
	entrySQL = `SELECT seq, layer, fid, action, former, undone FROM change
		WHERE record = ?1 AND +act IS ?2 AND (?2 IS NOT NULL OR at = ?3) ORDER BY seq DESC`
	cancelSQL = "UPDATE change SET undone = act WHERE record = ? AND +act = ?"
)

// entryOf gathers what an act did to a record. Changes from outside have no act; those
// of one statement share their time.
func entryOf(s *session, record string, act sql.NullInt64, at string) (entry, error) {
	rows, err := s.tx.QueryContext(s.ctx, entrySQL, record, act, at)
	if err != nil {
		return entry{}, err
	}
	defer rows.Close() //nolint:errcheck // only read from
	e := entry{record: record, act: act}
	for rows.Next() {
		var r row
		if err := rows.Scan(&r.seq, &r.layer, &r.fid, &r.action, &r.former, &r.undone); err != nil {
			return entry{}, err
		}
		e.rows = append(e.rows, r)
	}
	if err := rows.Err(); err != nil || len(e.rows) == 0 {
		return entry{}, errors.Join(err, sql.ErrNoRows)
	}
	return e, nil
}

// overtaken tells whether the record is no longer as the entry left it: the entry was
// undone, or something that still stands was done after it.
func (e entry) overtaken(s *session) (bool, error) {
	if u := e.rows[0].undone; u.Valid && u != e.act {
		return true, nil
	}
	var later bool
	err := s.queryRow("SELECT EXISTS (SELECT 1 FROM change WHERE record = ? AND seq > ? AND undone IS NULL)",
		e.record, e.rows[0].seq).Scan(&later)
	return later, err
}

// added tells whether the entry brought the record in.
func (e entry) added() bool {
	first := e.rows[len(e.rows)-1]
	l, _ := layoutOf(first.layer)
	return l.parent == "" && first.action == "insert"
}

// undo does the opposite of every change, the last one first, and marks what now cancels
// out. Undoing an undoing makes what was undone stand again.
func (e entry) undo(s *session) error {
	if err := s.begin(); err != nil {
		return err
	}
	for _, r := range e.rows {
		if err := r.undo(s); err != nil {
			return err
		}
		if _, err := s.exec("UPDATE change SET undone = ? WHERE seq = ?", s.act, r.seq); err != nil {
			return err
		}
	}
	if e.rows[0].undone.Valid {
		if _, err := s.exec("UPDATE change SET undone = NULL WHERE record = ? AND undone = ?", e.record, e.act); err != nil {
			return err
		}
	}
	_, err := s.exec(cancelSQL, e.record, s.act)
	return err
}

func (r row) undo(s *session) error {
	l, ok := layoutOf(r.layer)
	if !ok {
		return geo.Fail(geo.Internal, "store.Undo", geo.Message{}, fmt.Errorf("no table %q", r.layer))
	}
	var err error
	switch r.action {
	case "insert":
		_, err = s.exec(fmt.Sprintf("DELETE FROM %s WHERE fid = ?", r.layer), r.fid)
	case "update":
		_, err = s.execNamed("undo update "+r.layer, l.restoreSQL, r.former.String, r.fid)
	case "delete":
		_, err = s.execNamed("undo delete "+r.layer, l.reviveSQL, r.former.String, r.fid)
	}
	return err
}

// all lists the columns of a row but its fid.
func (l layout) all() []string {
	if l.parent == "" {
		return l.columns
	}
	return append([]string{l.parent}, l.columns...)
}

// kept is SQL for the value of a column in a JSON object.
func kept(object, column string) string {
	value := fmt.Sprintf("json_extract(%s, '$.%s')", object, column)
	if column == "geom" {
		return "unhex(nullif(" + value + ", ''))"
	}
	return value
}

// reviveSQL inserts the row with fid ?2 from its former value ?1.
func (l layout) reviveSQL() string {
	var values []string
	for _, c := range l.all() {
		values = append(values, kept("?1", c))
	}
	return fmt.Sprintf("INSERT INTO %s (fid, %s) VALUES (?2, %s)", l.name, strings.Join(l.all(), ", "), strings.Join(values, ", "))
}

// restoreSQL gives the row with fid ?2 its former value ?1.
func (l layout) restoreSQL() string {
	var sets []string
	for _, c := range l.all() {
		sets = append(sets, c+" = "+kept("?1", c))
	}
	return fmt.Sprintf("UPDATE %s SET %s WHERE fid = ?2", l.name, strings.Join(sets, ", "))
}

// Undo gives a record the value it had before the change with that number, and all that
// was changed together with it. Undoing again does it anew. [geo.NotFound] when there is
// no such change, [geo.Conflict] when it was undone already or the record was changed
// since: undo that first.
func (b *Base) Undo(ctx context.Context, seq int64, why Why) error {
	err := b.write(ctx, why, "", func(s *session) error {
		var record, at sql.NullString
		var act sql.NullInt64
		if err := s.queryRow("SELECT record, act, at FROM change WHERE seq = ?", seq).Scan(&record, &act, &at); err != nil {
			return err
		}
		e, err := entryOf(s, record.String, act, at.String)
		if err != nil {
			return err
		}
		overtaken, err := e.overtaken(s)
		if err != nil {
			return err
		}
		if overtaken {
			return geo.Fail(geo.Conflict, "store.Undo", geo.Say("store.changed-since", geo.With("id", geo.Text(record.String))), nil)
		}
		return e.undo(s)
	})
	return fail("store.Undo", err)
}
