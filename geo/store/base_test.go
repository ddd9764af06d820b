package store_test

import (
	"context"
	"encoding/json"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

var me = store.Why{Who: "Ama", Reason: "field book"}

func fixedClock() time.Time { return time.Date(2024, 3, 21, 8, 30, 0, 0, time.UTC) }

func newBase(t testing.TB) *store.Base {
	t.Helper()
	options := store.DefaultOptions()
	options.Now = fixedClock
	b, err := store.Create(filepath.Join(t.TempDir(), "ground.gpkg"), options)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := b.Close(); err != nil {
			t.Error(err)
		}
	})
	return b
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func bore(t testing.TB, b *store.Base, id geo.BoreID) geo.Bore {
	t.Helper()
	got, err := b.Bore(context.Background(), id)
	must(t, err)
	return got
}

func same(t testing.TB, got, want any) {
	t.Helper()
	g, err := json.Marshal(got)
	must(t, err)
	w, err := json.Marshal(want)
	must(t, err)
	if string(g) != string(w) {
		t.Fatalf("got %s\nwant %s", g, w)
	}
}
