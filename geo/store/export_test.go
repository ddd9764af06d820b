package store

import "testing"

// WriterPragma reads a pragma of the writing connection.
func WriterPragma(t testing.TB, b *Base, name string) (value string) {
	t.Helper()
	if err := b.writer.QueryRow("PRAGMA " + name).Scan(&value); err != nil {
		t.Fatal(err)
	}
	return value
}
