package account

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"waterstrike/geo"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// ErrNoMatch is wrapped by the errors that let nobody in: a name and password, or a code,
// that do not belong together. They do not tell which part is wrong.
var ErrNoMatch = errors.New("no match")

// TooSoonError tells that so many attempts failed that the next one has to wait.
type TooSoonError struct{ Wait time.Duration }

// Error tells how long to wait.
func (e *TooSoonError) Error() string { return "account: wait " + e.Wait.String() }

func noMatch(op string, code geo.Code) error {
	return geo.Fail(geo.Invalid, op, geo.Say(code), ErrNoMatch)
}

// fail turns an error of the database into one with a kind; an error that has one
// already, and a cancelled context, pass unchanged.
func fail(op string, err error) error {
	var known *geo.Error
	var soon *TooSoonError
	var raw *sqlite.Error
	switch {
	case err == nil, errors.As(err, &known), errors.As(err, &soon),
		errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.Is(err, sql.ErrNoRows):
		return geo.Fail(geo.NotFound, op, geo.Message{}, err)
	case errors.As(err, &raw):
		return failOfFile(op, raw)
	}
	return geo.Fail(geo.Internal, op, geo.Message{}, err)
}

func failOfFile(op string, raw *sqlite.Error) error {
	switch raw.Code() & 0xff {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return geo.Fail(geo.Conflict, op, geo.Say("store.busy"), raw)
	case sqlite3.SQLITE_INTERRUPT: // how a statement ends whose context did
		return errors.Join(context.Canceled, raw)
	case sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT:
		return geo.Fail(geo.Invalid, op, geo.Say("account.damaged"), raw)
	}
	return geo.Fail(geo.Internal, op, geo.Message{}, raw)
}
