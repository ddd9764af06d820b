package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"io/fs"
	"slices"

	"github.com/pressly/goose/v3"
)

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
