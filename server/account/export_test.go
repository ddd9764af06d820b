package account

import (
	"database/sql"
	"testing"
	"time"
)

// Count counts the rows of a table.
func Count(t *testing.T, b *Book, table string) (n int) {
	t.Helper()
	if err := b.db.QueryRow("SELECT count(*) FROM " + table).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// TryExec runs a statement in a file past the book.
func TryExec(path, statement string) error {
	db, err := sql.Open("sqlite", dsn(path))
	if err != nil {
		return err
	}
	defer db.Close()
	_, err = db.Exec(statement)
	return err
}

// Exec is TryExec that must go through.
func Exec(t *testing.T, path, statement string) {
	t.Helper()
	if err := TryExec(path, statement); err != nil {
		t.Fatal(err)
	}
}

// Throttle is the throttle by itself.
type Throttle struct{ *throttle }

// NewThrottle makes one.
func NewThrottle() Throttle { return Throttle{newThrottle()} }

// Attempt makes an attempt.
func (t Throttle) Attempt(now time.Time, key, from string) time.Duration {
	return t.attempt(now, key, from)
}

// Len counts what is remembered.
func (t Throttle) Len() int { return len(t.buckets) }

// The parts of passwords and codes.
var (
	Simple    = simple
	NewCode   = newCode
	PlainCode = plainCode
	Matches   = matches
)

// Hash hashes a password.
func (c Cost) Hash(password string) (string, error) { return c.hash(password) }
