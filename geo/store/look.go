package store

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"waterstrike/geo"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// application is the mark of a GeoPackage in the file's header (OGC 12-128, Requirement 2).
const application = 0x47504B47

// candidate is a file that may be a knowledge base.
type candidate struct {
	path    string
	name    string // what people know it as
	pragmas string // of the connections that look at it
}

// identify refuses a file whose header is not that of a knowledge base, and tells whether
// the file can be written. Never of a file that this process has open as a base: where
// locks belong to the process, closing the file here would drop them.
func identify(path string) (writable bool, err error) {
	const op = "store.Open"
	mark, writable, err := header(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, geo.Fail(geo.NotFound, op, geo.Say("store.no-file", geo.With("path", geo.Text(path))), err)
	}
	if err != nil || mark != application {
		return false, notABase(path, err)
	}
	return writable, nil
}

func notABase(name string, err error) error {
	return geo.Fail(geo.Invalid, "store.Open", geo.Say("store.not-a-base", geo.With("path", geo.Text(name))), err)
}

func damaged(name string, err error) error {
	return geo.Fail(geo.Invalid, "store.Open", geo.Say("store.damaged", geo.With("path", geo.Text(name))), err)
}

// header reads the mark of every SQLite file (OGC 12-128, Requirement 1) and the
// application id at its place in the header (SQLite file format, 1.3).
func header(path string) (mark uint32, writable bool, err error) {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if writable = err == nil; !writable {
		if f, err = os.Open(path); err != nil {
			return 0, false, err
		}
	}
	defer f.Close() //nolint:errcheck // only read from
	var first [100]byte
	if _, err := io.ReadFull(f, first[:]); err != nil {
		return 0, writable, fmt.Errorf("too short for an SQLite file: %w", err)
	}
	if !strings.HasPrefix(string(first[:]), "SQLite format 3\x00") {
		return 0, writable, errors.New("not an SQLite file")
	}
	return binary.BigEndian.Uint32(first[68:]), writable, nil
}

func (c candidate) open() (*sql.DB, error) { return sql.Open("sqlite", dsn(c.path, c.pragmas)) }

// look returns the number of the last migration of a file that [identify] let pass. It
// refuses a file that is damaged, another program's or of a newer one, without changing a
// byte of it.
func (c candidate) look() (version int64, err error) {
	db, err := c.open()
	if err != nil {
		return 0, fail("store.Open", err)
	}
	defer db.Close() //nolint:errcheck // only read from
	var last sql.NullInt64
	err = db.QueryRow("SELECT max(version_id) FROM " + migrationTable).Scan(&last)
	var raw *sqlite.Error
	switch {
	case err == nil && !last.Valid, errors.As(err, &raw) && raw.Code() == sqlite3.SQLITE_ERROR: // no such table
		return 0, notABase(c.name, err)
	case raw != nil && !spoilt(raw):
		return 0, fail("store.Open", err)
	case err != nil:
		return 0, damaged(c.name, err)
	}
	known, err := newest()
	if err == nil && last.Int64 > known {
		return 0, geo.Fail(geo.Newer, "store.Open", geo.Say("store.newer", geo.With("path", geo.Text(c.name)),
			geo.With("version", geo.Count(last.Int64)), geo.With("known", geo.Count(known))), nil)
	}
	return last.Int64, err
}

// spoilt reports that bytes of the file make no sense.
func spoilt(raw *sqlite.Error) bool {
	code := raw.Code() & 0xff
	return code == sqlite3.SQLITE_CORRUPT || code == sqlite3.SQLITE_NOTADB
}

// verify looks at a base and reads it through.
func (c candidate) verify(ctx context.Context) error {
	if _, err := c.look(); err != nil {
		return err
	}
	db, err := c.open()
	if err != nil {
		return err
	}
	defer db.Close() //nolint:errcheck // only read from
	return sound(ctx, db, c.name)
}

// sound reads a base through: that its pages make sense, and that every part has its record.
func sound(ctx context.Context, db *sql.DB, name string) error {
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&verdict); err != nil {
		return err
	}
	var orphans int
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM pragma_foreign_key_check").Scan(&orphans); err != nil {
		return err
	}
	if verdict != "ok" || orphans > 0 {
		return damaged(name, fmt.Errorf("integrity_check: %s; %d rows without their record", verdict, orphans))
	}
	return nil
}
