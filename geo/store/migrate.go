package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"

	"waterstrike/geo"

	"github.com/pressly/goose/v3"
)

// application is the mark of a GeoPackage in the file's header (OGC 12-128, Requirement 2).
const application = 0x47504B47

// migrationTable holds the number of the last migration: user_version belongs to
// GeoPackage.
const migrationTable = "migration"

//go:embed migrations/*.sql
var migrations embed.FS

var errInUse = errors.New("the file is in use")

func provider(db *sql.DB) (*goose.Provider, error) {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(goose.DialectSQLite3, db, files,
		goose.WithTableName(migrationTable), goose.WithDisableGlobalRegistry(true))
}

// migrate brings the tables up to date.
func migrate(ctx context.Context, db *sql.DB) error {
	p, err := provider(db)
	if err != nil {
		return err
	}
	if _, err = p.Up(ctx); err == nil {
		return nil
	}
	// Two programs may have started at once: what counts is that the file is up to date.
	if pending, again := p.HasPending(ctx); again != nil || pending {
		return err
	}
	return nil
}

// newest is the number of the last migration this program knows.
func newest() (int64, error) {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return 0, err
	}
	return goose.NumericComponent(slices.Max(names))
}

// look refuses a file that is not a knowledge base of this or an older program, without
// changing a byte of it.
func look(path string) error {
	const op = "store.Open"
	at := geo.With("path", geo.Text(path))
	if err := header(path); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return geo.Fail(geo.NotFound, op, geo.Say("store.no-file", at), err)
		}
		return geo.Fail(geo.Invalid, op, geo.Say("store.not-a-base", at), err)
	}
	db, err := sql.Open("sqlite", dsn(path, lookPragmas))
	if err != nil {
		return fail(op, err)
	}
	defer db.Close() //nolint:errcheck // only read from
	var mark, version int64
	if err := db.QueryRow("PRAGMA application_id").Scan(&mark); err != nil {
		return fail(op, err)
	}
	err = db.QueryRow("SELECT max(version_id) FROM " + migrationTable).Scan(&version)
	if err != nil || mark != application {
		return geo.Fail(geo.Invalid, op, geo.Say("store.not-a-base", at), err)
	}
	known, err := newest()
	if err == nil && version > known {
		return geo.Fail(geo.Newer, op, geo.Say("store.newer", at,
			geo.With("version", geo.Count(version)), geo.With("known", geo.Count(known))), nil)
	}
	return err
}

// header reads the mark of every SQLite file (OGC 12-128, Requirement 1).
func header(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close() //nolint:errcheck // only read from
	var first [16]byte
	if _, err := io.ReadFull(f, first[:]); err != nil || string(first[:]) != "SQLite format 3\x00" {
		return fmt.Errorf("not an SQLite file: %w", err)
	}
	return nil
}
