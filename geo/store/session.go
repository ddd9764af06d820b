package store

import (
	"context"
	"database/sql"
	"time"

	"github.com/paulmach/orb"
)

// Why says who changes a record and for what reason; both go into the history.
type Why struct {
	Who    string
	Reason string
}

// stamp is how moments are written: DATETIME of GeoPackage 1.3.
const stamp = "2006-01-02T15:04:05.000Z"

// session is one writing transaction. What it writes is one act of the history.
type session struct {
	ctx    context.Context
	tx     *sql.Tx
	at     string
	why    Why
	batch  string
	act    int64 // 0 until something is written
	whole  bool  // what the context says
	stmts  map[string]*sql.Stmt
	bounds map[string]orb.Bound // of what was written, by layer
}

// write runs fn in one transaction and returns once it is on the disk. It waits for
// other writers, in this program and in others, as long as ctx allows.
func (b *Base) write(ctx context.Context, why Why, batch string, fn func(*session) error) error {
	tx, err := b.beginWrite(ctx)
	if err != nil {
		return fail("store.write", err)
	}
	s := newSession(ctx, tx, b.options.Now())
	s.why, s.batch = why, batch
	err = fn(s)
	if err == nil {
		err = s.finish()
	}
	if err == nil {
		err = tx.Commit()
	}
	if err != nil {
		_ = tx.Rollback() // the first error is the one to tell
		return fail("store.write", err)
	}
	if s.act != 0 {
		b.idle.wrote()
	}
	return nil
}

func newSession(ctx context.Context, tx *sql.Tx, now time.Time) *session {
	return &session{
		ctx: ctx, tx: tx, at: now.UTC().Format(stamp),
		stmts: map[string]*sql.Stmt{}, bounds: map[string]orb.Bound{},
	}
}

// beginWrite starts a transaction that holds the write lock from its first moment.
func (b *Base) beginWrite(ctx context.Context) (*sql.Tx, error) {
	if b.writer == nil {
		return nil, readOnly("store.write", nil)
	}
	for {
		tx, err := b.writer.BeginTx(ctx, nil)
		if !busy(err) || ctx.Err() != nil {
			return tx, err
		}
	}
}

// begin writes down who acts, once, before the first change. What follows is noted row
// by row.
func (s *session) begin() error {
	if s.act != 0 {
		return s.adding(false)
	}
	result, err := s.exec("INSERT INTO act (at, who, why, batch) VALUES (?, ?, ?, ?)",
		s.at, orNull(s.why.Who), orNull(s.why.Reason), orNull(s.batch))
	if err != nil {
		return err
	}
	if s.act, err = result.LastInsertId(); err != nil {
		return err
	}
	_, err = s.exec("UPDATE context SET act = ?", s.act)
	return err
}

// adding says whether what is inserted now is a whole record with its parts, for which
// one change stands. The database is told when that turns.
func (s *session) adding(whole bool) error {
	if s.whole == whole {
		return nil
	}
	s.whole = whole
	_, err := s.exec("UPDATE context SET whole = ?", bit(whole))
	return err
}

// finish forgets who acts and widens the extents of the layers written to.
func (s *session) finish() error {
	if s.act == 0 {
		return nil
	}
	for layer, b := range s.bounds {
		if _, err := s.exec(`UPDATE gpkg_contents SET last_change = ?1,
			min_x = min(coalesce(min_x, ?2), ?2), min_y = min(coalesce(min_y, ?3), ?3),
			max_x = max(coalesce(max_x, ?4), ?4), max_y = max(coalesce(max_y, ?5), ?5)
			WHERE table_name = ?6`, s.at, b.Min[0], b.Min[1], b.Max[0], b.Max[1], layer); err != nil {
			return err
		}
	}
	_, err := s.exec("UPDATE context SET act = NULL, whole = 0")
	return err
}

// touch remembers the extent of a geometry that was written.
func (s *session) touch(layer string, cell any) error {
	if cell == nil {
		return nil
	}
	g, err := decodeGeometry(cell)
	if err != nil || g == nil {
		return err
	}
	b := g.Bound()
	if known, ok := s.bounds[layer]; ok {
		b = b.Union(known)
	}
	s.bounds[layer] = b
	return nil
}

// exec runs a statement, prepared once a session.
func (s *session) exec(query string, args ...any) (sql.Result, error) {
	return s.execNamed(query, func() string { return query }, args...)
}

// execNamed is exec for a text that is built only when its name is new. A statement of a
// session touches a few rows: the context is asked before it, not watched during it, which
// would cost a goroutine each and a fifth of the time of an import.
func (s *session) execNamed(name string, query func() string, args ...any) (sql.Result, error) {
	if err := s.ctx.Err(); err != nil {
		return nil, err
	}
	stmt, ok := s.stmts[name]
	if !ok {
		var err error
		if stmt, err = s.tx.PrepareContext(s.ctx, query()); err != nil {
			return nil, err
		}
		s.stmts[name] = stmt
	}
	return stmt.ExecContext(context.WithoutCancel(s.ctx), args...)
}

// queryRow reads one row by a statement prepared once a session.
func (s *session) queryRow(query string, args ...any) *sql.Row {
	stmt, ok := s.stmts[query]
	if !ok {
		var err error
		if stmt, err = s.tx.PrepareContext(s.ctx, query); err != nil {
			return s.tx.QueryRowContext(s.ctx, query, args...) // meets the same error and keeps it
		}
		s.stmts[query] = stmt
	}
	return stmt.QueryRowContext(context.WithoutCancel(s.ctx), args...)
}

// orNull stores the zero value as missing.
func orNull[T comparable](v T) any {
	var zero T
	if v == zero {
		return nil
	}
	return v
}
