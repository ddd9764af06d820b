package evidence_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// change does one of the things that happen to records.
func change(rng *rand.Rand, src *base) {
	id := idOf(rng.IntN(250))
	old, there := src.visible[id]
	switch kind := rng.IntN(8); {
	case !there || kind < 2:
		src.save(randomBore(rng, id))
	case kind < 4:
		src.hide(id)
	case kind == 4:
		old.Position = geo.Bore{}.Position
		src.save(old)
	case kind == 5:
		old.Layers = nil
		src.save(old)
	case kind == 6:
		old.Outcome, old.Levels = geo.Dry, nil
		src.save(old)
	default:
		src.hide(id)
		src.save(old) // put back within one step
	}
}

// A snapshot advanced through many changes says what one freshly loaded says, and those
// it came from go on saying what they said.
func TestAdvanceEqualsLoad(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	src := newBase()
	s := load(t, src)
	for step := range 300 {
		before := told(t, s)
		for range 1 + rng.IntN(8) {
			change(rng, src)
		}
		next := advance(t, s, src)
		if got, want := told(t, next), told(t, load(t, src)); got != want {
			t.Fatalf("step %d: advanced and loaded differ: %s", step, differ(got, want))
		}
		if told(t, s) != before {
			t.Fatalf("step %d: the old snapshot has changed", step)
		}
		s = next
	}
	if s.Len() < 50 || s.Described() < 20 || s.Levelled() < 20 {
		t.Errorf("too few bores left to tell: %d, %d, %d", s.Len(), s.Described(), s.Levelled())
	}
}

// Two snapshots made of one do not disturb each other.
func TestAdvanceSiblings(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	src := newBase()
	for range 100 {
		change(rng, src)
	}
	s := load(t, src)
	src.save(randomBore(rng, idOf(1)))
	first := advance(t, s, src)
	was := told(t, first)
	src.hide(idOf(1), idOf(2), idOf(3))
	if got, want := told(t, advance(t, s, src)), told(t, load(t, src)); got != want {
		t.Errorf("the second differs from a loaded one: %s", differ(got, want))
	}
	if told(t, first) != was {
		t.Error("the first has changed")
	}
}

// Steps of many changes, hidden ones among them: pages of the catalogue grow, are cut and
// run empty.
func TestAdvanceManyChanges(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	src := newBase()
	for i := range 3000 {
		src.save(randomBore(rng, idOf(i)))
	}
	s := load(t, src)
	first, was := s, told(t, s)
	for round := range 6 {
		for i := range 1500 {
			id := idOf(round*900 + i)
			if i%5 == 0 {
				src.hide(id)
			} else {
				src.save(randomBore(rng, id))
			}
		}
		s = advance(t, s, src)
		if got, want := told(t, s), told(t, load(t, src)); got != want {
			t.Fatalf("round %d differs from a loaded snapshot: %s", round, differ(got, want))
		}
	}
	if told(t, first) != was {
		t.Error("the first snapshot has changed")
	}
}

func TestAdvanceNothingNew(t *testing.T) {
	src := newBase()
	src.save(randomBore(rand.New(rand.NewPCG(1, 1)), idOf(1)))
	s := load(t, src)
	if advance(t, s, src) != s {
		t.Error("nothing has changed, but the snapshot has")
	}
}

// What a bore loses, its snapshot loses.
func TestAdvanceLosses(t *testing.T) {
	rng := rand.New(rand.NewPCG(37, 38))
	full := randomBore(rng, idOf(1))
	full.Position = geo.Some(at(0.1, 0.1))
	full.Outcome = geo.Producing
	full.Layers = []geo.Layer{{TopM: 0, BaseM: 3, Class: soil.Sand, Confidence: 1}}
	full.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(2.0)}}
	type counts struct{ all, described, levelled, known, producing int }
	for name, c := range map[string]struct {
		change func(*geo.Bore)
		want   counts
	}{
		"nothing":       {func(*geo.Bore) {}, counts{1, 1, 1, 1, 1}},
		"position":      {func(b *geo.Bore) { b.Position = geo.Bore{}.Position }, counts{}},
		"layers":        {func(b *geo.Bore) { b.Layers = nil }, counts{1, 0, 1, 1, 1}},
		"known classes": {func(b *geo.Bore) { b.Layers = []geo.Layer{{BaseM: 3, Class: soil.Unknown}} }, counts{1, 0, 1, 1, 1}},
		"levels":        {func(b *geo.Bore) { b.Levels = nil }, counts{1, 1, 0, 1, 1}},
		"outcome":       {func(b *geo.Bore) { b.Outcome = geo.OutcomeUnknown }, counts{1, 1, 1, 0, 0}},
		"success":       {func(b *geo.Bore) { b.Outcome = geo.LowYield }, counts{1, 1, 1, 1, 0}},
	} {
		src := newBase()
		src.save(full)
		s := load(t, src)
		b := full
		c.change(&b)
		src.save(b)
		s = advance(t, s, src)
		got := counts{s.Len(), s.Described(), s.Levelled(), s.Rate().Known, s.Rate().Producing}
		if got != c.want {
			t.Errorf("%s lost: %+v, want %+v", name, got, c.want)
		}
	}
}

func TestBrokenSource(t *testing.T) {
	src := newBase()
	src.save(randomBore(rand.New(rand.NewPCG(1, 1)), idOf(1)))
	s := load(t, src)
	live, err := evidence.NewLive(t.Context(), src, nil)
	if err != nil {
		t.Fatal(err)
	}
	src.save(randomBore(rand.New(rand.NewPCG(1, 2)), idOf(2)))
	src.broken = errBroken
	was := live.Snapshot()
	if _, err := s.Advance(t.Context(), src); !errors.Is(err, errBroken) {
		t.Errorf("advance: %v", err)
	}
	if _, err := live.Refresh(t.Context()); !errors.Is(err, errBroken) || live.Snapshot() != was {
		t.Errorf("refresh: %v", err)
	}
	if _, err := evidence.Load(t.Context(), src); !errors.Is(err, errBroken) {
		t.Errorf("load: %v", err)
	}
	if _, err := evidence.NewLive(t.Context(), src, nil); !errors.Is(err, errBroken) {
		t.Errorf("new live: %v", err)
	}
}

// unread is a source whose records cannot be read.
type unread struct{ *base }

func (unread) Bores(context.Context, func(geo.Bore) error) error { return errBroken }

func (unread) BoresByID(context.Context, []geo.BoreID, func(geo.Bore) error) error { return errBroken }

func TestUnreadableRecords(t *testing.T) {
	src := newBase()
	s := load(t, src)
	src.save(geo.Bore{ID: idOf(1)})
	if next, err := s.Advance(t.Context(), unread{src}); !errors.Is(err, errBroken) || next != nil {
		t.Errorf("advance: %v", err)
	}
	if next, err := evidence.Load(t.Context(), unread{src}); !errors.Is(err, errBroken) || next != nil {
		t.Errorf("load: %v", err)
	}
}

// A position off the globe is refused, and no half-made snapshot comes with the error.
func TestImpossiblePosition(t *testing.T) {
	src := newBase()
	s := load(t, src)
	src.save(geo.Bore{ID: idOf(1), Position: geo.Some(at(0, 91))})
	if next, err := s.Advance(t.Context(), src); err == nil || next != nil {
		t.Errorf("advance: %v, %v", next, err)
	}
	if next, err := evidence.Load(t.Context(), src); err == nil || next != nil {
		t.Errorf("load: %v, %v", next, err)
	}
}
