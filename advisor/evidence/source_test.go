package evidence_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// base is a source of records held in memory, changed as a knowledge base is. It is safe
// for concurrent use.
type base struct {
	mu      sync.Mutex
	visible map[geo.BoreID]geo.Bore
	log     []geo.BoreID // what was touched; its length is the number of the last change
	broken  error
}

func newBase() *base { return &base{visible: map[geo.BoreID]geo.Bore{}} }

func (b *base) save(bores ...geo.Bore) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, bore := range bores {
		b.visible[bore.ID] = bore
		b.log = append(b.log, bore.ID)
	}
}

func (b *base) hide(ids ...geo.BoreID) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, id := range ids {
		delete(b.visible, id)
		b.log = append(b.log, id)
	}
}

func (b *base) Seq(context.Context) (int64, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return int64(len(b.log)), b.broken
}

func (b *base) Bores(ctx context.Context, fn func(geo.Bore) error) error {
	b.mu.Lock()
	ids := slices.Sorted(maps.Keys(b.visible))
	b.mu.Unlock()
	return b.BoresByID(ctx, ids, fn)
}

func (b *base) ChangedSince(_ context.Context, seq int64) ([]geo.BoreID, int64, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	ids := slices.Clone(b.log[seq:])
	slices.Sort(ids)
	return slices.Compact(ids), int64(len(b.log)), b.broken
}

func (b *base) BoresByID(_ context.Context, ids []geo.BoreID, fn func(geo.Bore) error) error {
	for _, id := range ids {
		b.mu.Lock()
		bore, ok := b.visible[id]
		b.mu.Unlock()
		if !ok {
			continue
		}
		if err := fn(bore); err != nil {
			return err
		}
	}
	return nil
}

func inBox(s *evidence.Snapshot) any {
	shown, total := s.Within(orb.Bound{Min: orb.Point{-0.2, -0.2}, Max: orb.Point{0.3, 0.3}}, 20)
	return []any{shown, total}
}

var errBroken = errors.New("the file is gone")

func idOf(n int) geo.BoreID { return geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012x", n)) }

// randomBore is one of the bores that records hold, with or without a position, layers
// and levels. Positions are coarse, so that distances tie.
func randomBore(rng *rand.Rand, id geo.BoreID) geo.Bore {
	b := geo.Bore{ID: id, Code: fmt.Sprint("B", rng.IntN(1000)), Method: "sludging"}
	b.Outcome = geo.Outcomes()[rng.IntN(len(geo.Outcomes()))]
	if rng.IntN(8) > 0 {
		b.Position = geo.Some(coord.Reading{Pos: place(rng)})
	}
	if rng.IntN(3) > 0 {
		b.DepthM = geo.Some(float64(5 + rng.IntN(30)))
	}
	if rng.IntN(3) > 0 {
		top := 0.0
		for range 1 + rng.IntN(4) {
			base := top + 0.5 + float64(rng.IntN(8))
			b.Layers = append(b.Layers, geo.Layer{TopM: top, BaseM: base, Class: soil.Class(rng.IntN(soil.Count + 1)), Confidence: 1})
			top = base
		}
	}
	if rng.IntN(2) > 0 {
		b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(float64(rng.IntN(12) - 1))}}
	}
	return b
}

func place(rng *rand.Rand) coord.LonLat {
	return coord.LonLat{Lon: float64(rng.IntN(21)-10) / 20, Lat: float64(rng.IntN(21)-10) / 20}
}

func load(t testing.TB, src evidence.Source) *evidence.Snapshot {
	t.Helper()
	s, err := evidence.Load(t.Context(), src)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func advance(t testing.TB, s *evidence.Snapshot, src evidence.Source) *evidence.Snapshot {
	t.Helper()
	next, err := s.Advance(t.Context(), src)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// differ shows where two texts part.
func differ(got, want string) string {
	i := 0
	for i < min(len(got), len(want)) && got[i] == want[i] {
		i++
	}
	from := max(0, i-100)
	return fmt.Sprintf("…%s\nwant …%s", got[from:min(len(got), i+100)], want[from:min(len(want), i+100)])
}

// told is everything that a snapshot says: counts, rates, samples, and the nearest lists
// around a few points, as text.
func told(t testing.TB, s *evidence.Snapshot) string {
	t.Helper()
	out := map[string]any{
		"id": s.ID(), "len": s.Len(), "described": s.Described(), "levelled": s.Levelled(), "rate": s.Rate(),
		"box": inBox(s), "sampleDescribed": s.SampleDescribed(50), "sampleLevelled": s.SampleLevelled(50),
	}
	for i, p := range []coord.LonLat{{}, {Lon: 0.3, Lat: -0.2}, {Lon: -2, Lat: 1}} {
		out[fmt.Sprint("nearest", i)] = s.Nearest(p, 40)
		out[fmt.Sprint("nearestDescribed", i)] = s.NearestDescribed(p, 40)
		out[fmt.Sprint("nearestLevelled", i)] = s.NearestLevelled(p, 40)
	}
	text, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
