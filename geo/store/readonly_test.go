package store_test

import (
	"context"
	"errors"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"
)

// toRead are the options of a program that only reads.
func toRead() store.Options {
	options := store.DefaultOptions()
	options.ReadOnly = true
	return options
}

func wantCode(t testing.TB, err error, kind geo.Kind, code geo.Code) {
	t.Helper()
	wantKind(t, err, kind)
	var failure *geo.Error
	if errors.As(err, &failure); failure.Message.Code != code {
		t.Fatalf("message %s, want %s: %v", failure.Message.Code, code, err)
	}
}

// wantReadable checks that everything can be read of a filled base and nothing written.
func wantReadable(t testing.TB, b *store.Base) {
	t.Helper()
	ctx := context.Background()
	same(t, bore(t, b, storetest.FullBore(1).ID), storetest.FullBore(1))
	n := 0
	must(t, b.Bores(ctx, func(geo.Bore) error { n++; return nil }))
	if n != 2 {
		t.Errorf("%d bores, want 2", n)
	}
	must(t, b.Check(ctx))
	_, err := b.ChangedSince(ctx, 0)
	must(t, err)
	for name, write := range map[string]func() error{
		"save":      func() error { return b.SaveBore(ctx, storetest.FullBore(9), me) },
		"hide":      func() error { return b.Hide(ctx, storetest.ID(1), me) },
		"restore":   func() error { return b.Restore(ctx, storetest.ID(1), me) },
		"undo":      func() error { return b.Undo(ctx, 1, me) },
		"take back": func() error { _, err := b.TakeBack(ctx, "any", me, nil); return err },
	} {
		err := write()
		if !errors.Is(err, store.ErrReadOnly) {
			t.Errorf("%s: %v", name, err)
		}
		wantCode(t, err, geo.Conflict, "store.read-only")
	}
}

func TestOnlyReading(t *testing.T) {
	b := filled(t)
	only, err := store.Open(b.Path(), toRead())
	must(t, err)
	wantReadable(t, only)
	must(t, b.SaveBore(context.Background(), storetest.FullBore(9), me))
	bore(t, only, storetest.FullBore(9).ID) // what others write is seen
	must(t, only.Backup(context.Background(), filepath.Join(t.TempDir(), "copy.gpkg")))
	must(t, only.Close())

	_, err = raw(t, b.Path()).Exec("DELETE FROM migration WHERE version_id = (SELECT max(version_id) FROM migration)")
	must(t, err)
	_, err = store.Open(b.Path(), toRead())
	wantCode(t, err, geo.Conflict, "store.older")
	_, err = store.Open(filepath.Join(t.TempDir(), "none.gpkg"), toRead())
	wantCode(t, err, geo.NotFound, "store.no-file")
}
