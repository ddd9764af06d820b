package store

import "testing"

// MostAside is how many files one second keeps aside at most, AsideName how they are named.
const MostAside = mostAside

var AsideName = asideName

// WriterPragma reads a pragma of the writing connection.
func WriterPragma(t testing.TB, b *Base, name string) (value string) {
	t.Helper()
	if err := b.writer.QueryRow("PRAGMA " + name).Scan(&value); err != nil {
		t.Fatal(err)
	}
	return value
}
