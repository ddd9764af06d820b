package store

import (
	"context"
	"database/sql"
	"errors"

	"waterstrike/geo"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// fail turns an error of the database into one with a kind; an error that has one
// already, and a cancelled context, pass unchanged.
func fail(op string, err error) error {
	var known *geo.Error
	var raw *sqlite.Error
	switch {
	case err == nil, errors.As(err, &known),
		errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.Is(err, sql.ErrNoRows):
		return geo.Fail(geo.NotFound, op, geo.Message{}, err)
	case !errors.As(err, &raw):
		return geo.Fail(geo.Internal, op, geo.Message{}, err)
	}
	switch raw.Code() & 0xff {
	case sqlite3.SQLITE_CONSTRAINT, sqlite3.SQLITE_TOOBIG:
		return geo.Fail(geo.Invalid, op, geo.Message{}, err)
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return geo.Fail(geo.Conflict, op, geo.Say("store.busy"), err)
	case sqlite3.SQLITE_READONLY:
		return readOnly(op, err)
	case sqlite3.SQLITE_INTERRUPT: // how a statement ends whose context did
		return errors.Join(context.Canceled, err)
	case sqlite3.SQLITE_FULL:
		return geo.Fail(geo.Internal, op, geo.Say("store.disk-full"), err)
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
		return geo.Fail(geo.Invalid, op, geo.Say("store.damaged"), err)
	}
	return geo.Fail(geo.Internal, op, geo.Message{}, err)
}

// busy reports that another program holds the file.
func busy(err error) bool {
	var raw *sqlite.Error
	return errors.As(err, &raw) && raw.Code()&0xff == sqlite3.SQLITE_BUSY
}
