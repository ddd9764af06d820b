package main

import (
	"context"
	"io"
	"log/slog"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
	"waterstrike/geo/store"
)

// save writes n bores into a base.
func save(t *testing.T, base *store.Base, n int) {
	t.Helper()
	for i := range n {
		b, err := geo.NewBore(geo.Bore{
			ID:       geo.NewBoreID(),
			Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: 0.1 + 0.001*float64(i), Lat: 0.1}}),
			Layers:   []geo.Layer{{TopM: 0, BaseM: 9, Class: soil.Sand, Confidence: 1}},
		})
		if err != nil {
			t.Fatal(err)
		}
		if err := base.SaveBore(t.Context(), b, store.Why{Who: "test"}); err != nil {
			t.Fatal(err)
		}
	}
}

// A bore that another program saves into the file must reach the answers of a program
// that is already serving, within the second that the design gives it.
func TestOutsideWriteReachesAdviceConcurrent(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	ours, err := store.Create(path, store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer ours.Close()
	save(t, ours, 6)
	present, err := newLive(t.Context(), ours, nil)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go watch(ctx, ours, present, slog.New(slog.NewTextHandler(io.Discard, nil)))
	before, _ := present.State(ctx)

	theirs, err := store.Open(path, store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer theirs.Close()
	saved := time.Now()
	save(t, theirs, 1)
	for {
		if now, _ := present.State(ctx); now != before {
			break
		}
		if time.Since(saved) > 10*time.Second { // a second on a quiet machine
			t.Fatal("a bore saved by another program did not reach the advisor in 10 s")
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Logf("after %v", time.Since(saved))
	if n := present.evidence.Snapshot().Len(); n != 7 {
		t.Errorf("%d bores known, want 7", n)
	}
}
