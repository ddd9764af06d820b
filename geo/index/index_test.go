package index_test

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"waterstrike/geo/coord"
	"waterstrike/geo/index"
)

// The oracle everywhere is a linear scan with coord.DistanceM, itself checked
// against PROJ and GeographicLib in its own package.

func build(t testing.TB, entries []index.Entry) *index.Index {
	t.Helper()
	ix, err := index.New(entries)
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

func scan(entries []index.Entry, p coord.LonLat) []index.Hit {
	hits := make([]index.Hit, 0, len(entries))
	for _, e := range entries {
		hits = append(hits, index.Hit{Entry: e, DistanceM: coord.DistanceM(p, e.Pos)})
	}
	slices.SortFunc(hits, func(a, b index.Hit) int {
		return cmp.Or(cmp.Compare(a.DistanceM, b.DistanceM), cmp.Compare(a.ID, b.ID))
	})
	return hits
}

func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 7)) }

// name makes IDs whose order has nothing to do with their place.
func name(i int) string { return fmt.Sprintf("b%07d", uint32(i)*2654435761%10000019) }

func at(lon, lat float64) coord.LonLat { return coord.LonLat{Lon: lon, Lat: lat} }

func entriesAt(n int, place func(i int) coord.LonLat) []index.Entry {
	entries := make([]index.Entry, n)
	for i := range entries {
		entries[i] = index.Entry{ID: name(i), Pos: place(i)}
	}
	return entries
}

// sets are placements with something awkward each.
func sets() map[string][]index.Entry {
	r := random(1)
	u := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	return map[string][]index.Entry{
		"empty":         nil,
		"one":           entriesAt(1, func(int) coord.LonLat { return at(0.1, 0.2) }),
		"region":        entriesAt(800, func(int) coord.LonLat { return at(u(-1, 1), u(-1, 1)) }),
		"globe":         entriesAt(5000, func(int) coord.LonLat { return at(u(-180, 180), math.Asin(u(-1, 1))*180/math.Pi) }),
		"antimeridian":  entriesAt(700, func(int) coord.LonLat { return at(math.Remainder(180+u(-0.5, 0.5), 360), u(-17, -16)) }),
		"north pole":    entriesAt(2000, func(int) coord.LonLat { return at(u(-180, 180), u(89, 90)) }),
		"south pole":    entriesAt(1000, func(int) coord.LonLat { return at(u(-180, 180), u(-90, -89.9)) }),
		"one point":     entriesAt(300, func(int) coord.LonLat { return at(0.3, 0.4) }),
		"few points":    entriesAt(1500, func(i int) coord.LonLat { return at(float64(i%7), float64(i%5)) }),
		"grid":          entriesAt(400, func(i int) coord.LonLat { return at(float64(i%20)*0.01-0.1, float64(i/20)*0.01-0.2) }),
		"along equator": entriesAt(1000, func(int) coord.LonLat { return at(u(-180, 180), 0) }),
		"the meridian":  entriesAt(400, func(i int) coord.LonLat { return at(float64(180-360*(i%2)), float64(i/2%180-90)) }),
		"millimetres":   entriesAt(200, func(int) coord.LonLat { return at(u(0, 1e-7), u(0, 1e-7)) }),
	}
}

func questions() []coord.LonLat {
	r := random(2)
	ask := []coord.LonLat{
		at(0, 0), at(0.3, 0.4), at(180, -16.5), at(-180, -16.5), at(179.99, -16.2), at(-179.99, 0),
		at(0, 90), at(77, 90), at(0, -90), at(10, 89.5), at(-170, 89.5), at(5e-8, 5e-8),
	}
	for range 4 {
		ask = append(ask, at(r.Float64()*360-180, r.Float64()*180-90))
	}
	return ask
}

func sameHits(t *testing.T, what string, got, want []index.Hit) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d hits, want %d", what, len(got), len(want))
	}
	for i := range got {
		if got[i] != want[i] {
			t.Fatalf("%s: hit %d is %+v, want %+v", what, i, got[i], want[i])
		}
	}
}

func TestNearestAgainstScan(t *testing.T) {
	for set, entries := range sets() {
		t.Run(set, func(t *testing.T) {
			ix := build(t, entries)
			for _, p := range questions() {
				want := scan(entries, p)
				for _, n := range []int{1, 32, len(entries), len(entries) + 5} {
					sameHits(t, fmt.Sprintf("%d nearest to %v", n, p), ix.Nearest(p, n, nil), want[:min(n, len(want))])
				}
			}
		})
	}
}

// Few entries: lines between near antipodes take longest to measure.
func TestNearestFromTheAntipode(t *testing.T) {
	entries := sets()["region"][:100]
	for _, p := range []coord.LonLat{at(-179.7, -0.4), at(180, 0), at(179.5, 0.8)} {
		sameHits(t, "far side", build(t, entries).Nearest(p, 100, nil), scan(entries, p))
	}
}

func TestNearestAppends(t *testing.T) {
	ix := build(t, sets()["region"])
	first := ix.Nearest(at(0, 0), 3, nil)
	both := ix.Nearest(at(0.5, 0.5), 2, first)
	sameHits(t, "appended", both, append(slices.Clone(first), ix.Nearest(at(0.5, 0.5), 2, nil)...))
	if got := ix.Nearest(at(0, 0), 0, nil); len(got) != 0 {
		t.Errorf("none asked, %d given", len(got))
	}
}

func TestNearestFuncStops(t *testing.T) {
	for set, entries := range sets() {
		calls := 0
		build(t, entries).NearestFunc(at(0.3, 0.4), func(index.Hit) bool {
			calls++
			return calls < 3
		})
		if calls != min(3, len(entries)) {
			t.Errorf("%s: called %d times", set, calls)
		}
	}
}

func TestWithinAgainstScan(t *testing.T) {
	for set, entries := range sets() {
		t.Run(set, func(t *testing.T) {
			ix := build(t, entries)
			for _, p := range questions() {
				all := scan(entries, p)
				for _, radius := range []float64{-1, 0, 30e3, 2.1e7, math.Inf(1), math.NaN()} {
					want := slices.DeleteFunc(slices.Clone(all), func(h index.Hit) bool { return !(h.DistanceM <= radius) })
					sameHits(t, fmt.Sprintf("within %v of %v", radius, p), ix.Within(p, radius), want)
				}
				if len(all) > 2 { // a radius that is exactly one entry's distance takes it in
					if got := ix.Within(p, all[1].DistanceM); len(got) < 2 {
						t.Errorf("an entry on the circle round %v is missing", p)
					}
				}
			}
		})
	}
}

func TestWithinBoxAgainstScan(t *testing.T) {
	boxes := []orb.Bound{
		{Min: orb.Point{-180, -90}, Max: orb.Point{180, 90}},
		{Min: orb.Point{-0.25, -0.25}, Max: orb.Point{0.25, 0.1}},
		{Min: orb.Point{0.3, 0.4}, Max: orb.Point{0.3, 0.4}},
		{Min: orb.Point{179.9, -17}, Max: orb.Point{-179.8, -16.3}},
		{Min: orb.Point{179.9, -17}, Max: orb.Point{180, -16.3}},
		{Min: orb.Point{-180, -90}, Max: orb.Point{-179, 90}},
		{Min: orb.Point{170, 89}, Max: orb.Point{-20, 90}},
		{Min: orb.Point{3, 3}, Max: orb.Point{4, 1}}, // south above north: nothing
	}
	for set, entries := range sets() {
		t.Run(set, func(t *testing.T) {
			ix := build(t, entries)
			for _, b := range boxes {
				if got, want := ix.WithinBox(b), scanBox(entries, b); !slices.Equal(got, want) {
					t.Errorf("%v: %d entries, want %d", b, len(got), len(want))
				} else if up, whole := ix.WithinBoxUpTo(b, 2*len(want)+1); !whole || !slices.Equal(up, want) {
					t.Errorf("%v: %d entries of at most %d", b, len(up), len(want))
				} else if _, whole := ix.WithinBoxUpTo(b, len(want)); whole {
					t.Errorf("%v: no fewer than %d entries, and it went on", b, len(want))
				}
			}
		})
	}
}

func scanBox(entries []index.Entry, b orb.Bound) []index.Entry {
	west, east := b.Min.Lon(), b.Max.Lon()
	lonIn := func(lon float64) bool {
		if west > east {
			return lon >= west || lon <= east
		}
		return lon >= west && lon <= east
	}
	var found []index.Entry
	for _, e := range entries {
		onCut := math.Abs(e.Pos.Lon) == 180
		inLon := lonIn(e.Pos.Lon) || onCut && lonIn(-e.Pos.Lon)
		if inLon && e.Pos.Lat >= b.Min.Lat() && e.Pos.Lat <= b.Max.Lat() {
			found = append(found, e)
		}
	}
	slices.SortFunc(found, func(a, b index.Entry) int { return cmp.Compare(a.ID, b.ID) })
	return found
}

func TestOrderOfEntriesDoesNotMatter(t *testing.T) {
	entries := sets()["few points"]
	want := build(t, entries).Nearest(at(2, 2), 700, nil)
	random(3).Shuffle(len(entries), func(i, j int) { entries[i], entries[j] = entries[j], entries[i] })
	sameHits(t, "shuffled", build(t, entries).Nearest(at(2, 2), 700, nil), want)
}

func TestNewRefuses(t *testing.T) {
	if _, err := index.New([]index.Entry{{ID: "a", Pos: at(181, 0)}}); !errors.Is(err, coord.ErrPosition) {
		t.Errorf("out of range: %v", err)
	}
	if _, err := index.New([]index.Entry{{ID: "a", Pos: at(0, math.NaN())}}); !errors.Is(err, coord.ErrPosition) {
		t.Errorf("not a number: %v", err)
	}
	if _, err := index.New([]index.Entry{{ID: "a"}, {ID: "b"}, {ID: "a"}}); err == nil {
		t.Error("an ID given twice went through")
	}
}

func TestLenAtFind(t *testing.T) {
	entries := sets()["region"]
	ix := build(t, entries)
	slices.SortFunc(entries, func(a, b index.Entry) int { return cmp.Compare(a.ID, b.ID) })
	if ix.Len() != len(entries) {
		t.Fatalf("length %d", ix.Len())
	}
	for i, e := range entries {
		if got, ok := ix.Find(e.ID); ix.At(i) != e || !ok || got != e {
			t.Fatalf("entry %d: %v, %v", i, ix.At(i), got)
		}
	}
	if _, ok := ix.Find("nobody"); ok {
		t.Error("found nobody")
	}
}

// FuzzNearest places points by the bytes given, coarse enough to coincide often,
// and compares with the scan.
func FuzzNearest(f *testing.F) {
	f.Add([]byte("some points here"), 0.0, 0.0)
	f.Add([]byte{0, 0, 255, 255, 128, 0, 0, 128}, 180.0, 90.0)
	f.Fuzz(func(t *testing.T, places []byte, lon, lat float64) {
		p := at(lon, lat)
		if !p.Valid() || len(places) > 2000 {
			return
		}
		entries := entriesAt(len(places)/2, func(i int) coord.LonLat {
			return at(float64(places[2*i])/255*360-180, float64(places[2*i+1])/255*180-90)
		})
		sameHits(t, "all", build(t, entries).Nearest(p, len(entries), nil), scan(entries, p))
	})
}
