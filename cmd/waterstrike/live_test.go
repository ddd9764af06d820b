package main

import (
	"context"
	"io"
	"log/slog"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/advisor"
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
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	present, err := newLive(t.Context(), ours, nil, rules, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go watch(ctx, present)
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

// seeded is a live over a base of n bores with levels and logs, and the base.
func seeded(t *testing.T, n int) (*live, *store.Base) {
	t.Helper()
	base, err := store.Create(filepath.Join(t.TempDir(), "ground.gpkg"), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { base.Close() })
	saveLevelled(t, base, n, 1)
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	present, err := newLive(t.Context(), base, nil, rules, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		t.Fatal(err)
	}
	return present, base
}

// saveLevelled writes n bores with a level each into a base.
func saveLevelled(t *testing.T, base *store.Base, n int, seed uint64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 9))
	for range n {
		at := coord.LonLat{Lon: 0.1 + 0.2*rng.Float64(), Lat: 0.1 + 0.2*rng.Float64()}
		b, err := geo.NewBore(geo.Bore{
			ID:       geo.NewBoreID(),
			Position: geo.Some(coord.Reading{Pos: at}),
			Layers:   []geo.Layer{{BaseM: 3 + 6*rng.Float64(), Class: soil.Clay, Confidence: 1}, {TopM: 9, BaseM: 20, Class: soil.Sand, Confidence: 1}},
			Levels:   []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(5 + 20*(at.Lon-0.1) + rng.Float64())}},
			DepthM:   geo.Some(20.0),
		})
		if err != nil {
			t.Fatal(err)
		}
		if err := base.SaveBore(t.Context(), b, store.Why{Who: "test"}); err != nil {
			t.Fatal(err)
		}
	}
}

// As many new bores as a tenth ask for new fits. Answers come at once, from the new records and the old
// fits, until the new fits stand.
func TestAnswersGoOnWhileFitsAreMadeConcurrent(t *testing.T) {
	present, base := seeded(t, 60)
	before := present.adviser.Load().Fits()
	saveLevelled(t, base, 20, 2)
	if err := present.follow(t.Context()); err != nil {
		t.Fatal(err)
	}
	meanwhile := present.adviser.Load()
	if f := meanwhile.Fits(); f.Snapshot != before.Snapshot || f.Now == before.Now {
		t.Fatalf("while the fits are made the answers come from the fits of %s over the records of %s; before: %s", f.Snapshot, f.Now, before.Snapshot)
	}
	question := advisor.Question{At: coord.LonLat{Lon: 0.2, Lat: 0.2}, Seed: 1}
	asked := 0
	for present.adviser.Load() == meanwhile {
		a, err := present.Advise(t.Context(), question)
		if err != nil {
			t.Fatal(err)
		}
		if asked++; asked == 1 && a.Provenance.Snapshot != meanwhile.ID() {
			t.Errorf("the first answer is of %s, want %s", a.Provenance.Snapshot, meanwhile.ID())
		}
	}
	if asked == 0 {
		t.Error("nothing could be asked while the fits were made")
	}
	present.wait()
	if f := present.adviser.Load().Fits(); f.Snapshot != f.Now || f.Now != meanwhile.Fits().Now || f.Bores != 80 {
		t.Errorf("fits of %s with %d bores over the records of %s", f.Snapshot, f.Bores, f.Now)
	}
	t.Logf("%d answers while the fits were made", asked)
}

// The end of the program does not wait for a fit, and the former fits stand.
func TestFitsEndWithTheProgramConcurrent(t *testing.T) {
	present, base := seeded(t, 60)
	saveLevelled(t, base, 60, 2)
	ctx, stop := context.WithCancel(t.Context())
	if err := present.follow(ctx); err != nil {
		t.Fatal(err)
	}
	meanwhile := present.adviser.Load()
	time.Sleep(50 * time.Millisecond) // into the fit
	stopped := time.Now()
	stop()
	present.wait()
	if took := time.Since(stopped); took > 2*time.Second { // one likelihood: 10 ms on a quiet machine
		t.Errorf("the fit went on for %v", took)
	}
	if present.adviser.Load() != meanwhile || present.learning {
		t.Error("a fit that was ended is answered from")
	}
}
