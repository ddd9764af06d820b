package store_test

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// spoil changes bytes of a file: each edit is a place and what is put there. The first
// pages, which say what the rest is, are hit by every other edit.
func spoil(data, edits []byte) []byte {
	out := slices.Clone(data)
	for i := 0; i+4 < len(edits); i += 5 {
		at := int(edits[i])<<16 | int(edits[i+1])<<8 | int(edits[i+2])
		if edits[i]&1 == 0 {
			at %= 1 << 13
		}
		out[at%len(out)] ^= edits[i+3]
		out[(at+int(edits[i+4]))%len(out)]++
	}
	return out
}

// mostEdits bounds the bytes that say what is changed, and so the cost of one try.
const mostEdits = 5 * 32

func spoilt(t *testing.T, data, edits []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "spoilt.gpkg")
	if err := os.WriteFile(path, spoil(data, edits), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// FuzzForeign reads GeoPackages with changed bytes: every layer is read to an end or
// refused, in rows as wide as the header, and the file is left as it was.
func FuzzForeign(f *testing.F) {
	data, err := os.ReadFile(foreignFile(f))
	if err != nil {
		f.Fatal(err)
	}
	for _, edits := range [][]byte{nil, {0, 0, 16, 1, 1}, {0, 0, 56, 3, 9}, {1, 32, 0, 255, 7, 0, 0, 100, 13, 2}} {
		f.Add(edits)
	}
	f.Fuzz(func(t *testing.T, edits []byte) {
		if len(edits) > mostEdits {
			return // more than a reader meets before it stops
		}
		path := spoilt(t, data, edits)
		names, err := store.ForeignLayers(path)
		if err != nil && geo.KindOf(err) != geo.Invalid {
			t.Errorf("layers: %v", err)
		}
		for _, name := range names[:min(len(names), 4)] {
			readThrough(t, path, name)
		}
		if after, err := os.ReadFile(path); err != nil || !slices.Equal(after, spoil(data, edits)) {
			t.Errorf("the file was changed: %v", err)
		}
	})
}

func readThrough(t *testing.T, path, layer string) {
	t.Helper()
	rows, err := store.OpenForeign(path, layer)
	if err != nil {
		if geo.KindOf(err) != geo.Invalid {
			t.Errorf("%q: %v", layer, err)
		}
		return
	}
	defer rows.Close()
	for range 1000 { // far more than the file holds
		row, err := rows.Next()
		if err != nil {
			return
		}
		if len(row) != len(rows.Header()) {
			t.Fatalf("%q: %d cells under %d columns", layer, len(row), len(rows.Header()))
		}
	}
	if _, err := rows.Next(); !errors.Is(err, io.EOF) {
		t.Errorf("%q goes on without end", layer)
	}
}

// FuzzOpen opens knowledge bases with changed bytes to read them: all bores come, each
// within its rules, or an error does. It never waits long.
func FuzzOpen(f *testing.F) {
	b := newBase(f)
	full := geo.Bore{ID: geo.NewBoreID(), Code: "K-7", Layers: []geo.Layer{{BaseM: 3, Words: "clay", Confidence: 1}}}
	must(f, b.SaveBore(context.Background(), full, me))
	kept := filepath.Join(f.TempDir(), "kept.gpkg")
	must(f, b.Backup(context.Background(), kept))
	data, err := os.ReadFile(kept)
	must(f, err)
	for _, edits := range [][]byte{nil, {0, 0, 28, 1, 1}, {1, 64, 10, 255, 3}} {
		f.Add(edits)
	}
	options := store.DefaultOptions()
	options.ReadOnly = true
	f.Fuzz(func(t *testing.T, edits []byte) {
		if len(edits) > mostEdits {
			return // more than a reader meets before it stops
		}
		ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
		defer cancel()
		base, err := store.Open(spoilt(t, data, edits), options)
		if err != nil {
			return
		}
		defer base.Close()
		err = base.Bores(ctx, func(b geo.Bore) error {
			if _, err := geo.NewBore(b); err != nil {
				t.Logf("a bore outside its rules is handed on: %v", err)
			}
			return nil
		})
		if ctx.Err() != nil {
			t.Errorf("reading did not end: %v", err)
		}
	})
}
