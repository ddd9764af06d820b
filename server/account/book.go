package account

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"time"

	"waterstrike/geo"

	"github.com/pressly/goose/v3"
)

// Options are the choices of an open book.
type Options struct {
	Now  func() time.Time // the clock that dates changes and ends what expires
	Cost Cost             // of a password
}

// DefaultOptions returns the usual choices.
func DefaultOptions() Options { return Options{Now: time.Now, Cost: DefaultCost()} }

// Book is an open file of people. It is safe for concurrent use, also by several programs.
type Book struct {
	options  Options
	db       *sql.DB
	throttle *throttle
	turns    chan struct{} // one for each password that may be worked on at a time
	nobody   string        // the hash that a name without a person is checked against
}

const (
	// busy_timeout comes first, so that the other pragmas wait for a file that is in use.
	pragmas = "_pragma=busy_timeout(5000)&_pragma=journal_mode(WAL)&_pragma=foreign_keys(1)&_pragma=synchronous(FULL)&_txlock=immediate"
	fileID  = 0x57535050 // application_id, as the first migration sets it
)

//go:embed migrations/*.sql
var migrations embed.FS

// Open opens the file of people, or makes an empty one that only its owner can read.
// [geo.Invalid] when the file is another one, [geo.Newer] when a newer program wrote it.
func Open(ctx context.Context, path string, options Options) (*Book, error) {
	const op = "account.Open"
	if err := forOwnerOnly(path); err != nil {
		return nil, geo.Fail(geo.Conflict, op, geo.Say("problem.not-writable", geo.With("file", geo.Text(path))), err)
	}
	db, err := sql.Open("sqlite", dsn(path))
	if err != nil {
		return nil, fail(op, err)
	}
	db.SetMaxOpenConns(4)
	b := &Book{options: options, db: db, throttle: newThrottle(), turns: make(chan struct{}, passwordsAtOnce)}
	if err := b.prepare(ctx, path); err != nil {
		return nil, errors.Join(fail(op, err), db.Close())
	}
	return b, nil
}

// Close ends the work with the file.
func (b *Book) Close() error { return b.db.Close() }

// forOwnerOnly makes the file where it is missing, and takes other people's rights to it
// away. SQLite gives the files that it puts beside it the same rights.
func forOwnerOnly(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	info, err := f.Stat()
	if err == nil && info.Mode().Perm()&0o077 != 0 {
		err = f.Chmod(0o600)
	}
	return errors.Join(err, f.Close())
}

func dsn(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	u := url.URL{Scheme: "file", OmitHost: true, Path: filepath.ToSlash(path), RawQuery: pragmas}
	return u.String()
}

// prepare checks that the file is ours and brings it up to date.
func (b *Book) prepare(ctx context.Context, path string) error {
	if err := b.identify(ctx, path); err != nil {
		return err
	}
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, b.db, files, goose.WithTableName("migration"), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	if _, err := p.Up(ctx); err != nil {
		// Two programs may have started at once: what counts is that the file is up to date.
		if pending, again := p.HasPending(ctx); again != nil || pending {
			return err
		}
	}
	b.nobody, err = b.options.Cost.hash(newSecret(tokenBytes))
	return err
}

// identify refuses a file that is not ours, or that a newer program wrote.
func (b *Book) identify(ctx context.Context, path string) error {
	const op = "account.Open"
	var id, tables int64
	if err := b.db.QueryRowContext(ctx, "SELECT application_id, (SELECT count(*) FROM sqlite_master) FROM pragma_application_id").Scan(&id, &tables); err != nil {
		return err
	}
	switch {
	case id == 0 && tables == 0:
		return nil
	case id != fileID:
		return geo.Fail(geo.Invalid, op, geo.Say("account.not-ours", geo.With("file", geo.Text(path))), nil)
	}
	newest, err := newestMigration()
	if err != nil {
		return err
	}
	var has int64
	if err := b.db.QueryRowContext(ctx, "SELECT max(version_id) FROM migration").Scan(&has); err != nil {
		return err
	}
	if has > newest {
		return geo.Fail(geo.Newer, op, geo.Say("problem.file-newer", geo.With("file", geo.Text(path))), nil)
	}
	return nil
}

func newestMigration() (int64, error) {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return 0, err
	}
	return goose.NumericComponent(slices.Max(names))
}

// change runs writes as one transaction: all of them with their entries in the log, or none.
func (b *Book) change(ctx context.Context, op string, do func(tx *sql.Tx) error) error {
	tx, err := b.db.BeginTx(ctx, nil)
	if err != nil {
		return fail(op, err)
	}
	if err := do(tx); err != nil {
		return fail(op, errors.Join(err, tx.Rollback()))
	}
	return fail(op, tx.Commit())
}

func (b *Book) now() time.Time { return b.options.Now() }
