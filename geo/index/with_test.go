package index_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/index"
)

// A long run of random changes, each index compared with a plain map of what it
// should hold, and with the index built at once from that map.
func TestWithAgainstScan(t *testing.T) {
	r := random(4)
	truth := map[string]coord.LonLat{}
	ix := build(t, nil)
	for round := range 150 {
		put, drop := changes(r, truth, round)
		next, err := ix.With(put, drop)
		if err != nil {
			t.Fatal(err)
		}
		before := ix.Len()
		apply(truth, put, drop)
		if ix.Len() != before || next.Len() != len(truth) {
			t.Fatalf("round %d: %d entries, want %d", round, next.Len(), len(truth))
		}
		ix = next
		checkAgainst(t, ix, truth, at(r.Float64()*2-1, r.Float64()*2-1))
	}
}

// changes alternates growing and shrinking, down to nothing now and then.
func changes(r *rand.Rand, truth map[string]coord.LonLat, round int) (put []index.Entry, drop []string) {
	ids := make([]string, 0, len(truth))
	for id := range truth {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for i, id := range ids {
		if round%30 == 29 || r.IntN(12) == 0 {
			drop = append(drop, id)
		} else if i%17 == 0 {
			put = append(put, index.Entry{ID: id, Pos: at(r.Float64(), r.Float64())})
		}
	}
	for range r.IntN(120) {
		e := index.Entry{ID: fmt.Sprintf("b%04d", r.IntN(3000)), Pos: at(float64(r.IntN(21)-10)/10, r.Float64()*2-1)}
		if !slices.ContainsFunc(put, func(have index.Entry) bool { return have.ID == e.ID }) {
			put = append(put, e)
		}
	}
	return put, append(drop, "unknown")
}

func apply(truth map[string]coord.LonLat, put []index.Entry, drop []string) {
	for _, id := range drop {
		delete(truth, id)
	}
	for _, e := range put {
		truth[e.ID] = e.Pos
	}
}

func checkAgainst(t *testing.T, ix *index.Index, truth map[string]coord.LonLat, p coord.LonLat) {
	t.Helper()
	var entries []index.Entry
	for id, pos := range truth {
		entries = append(entries, index.Entry{ID: id, Pos: pos})
	}
	sameHits(t, "after changes", ix.Nearest(p, len(entries)+1, nil), scan(entries, p))
	fresh := build(t, entries)
	for i := range fresh.Len() {
		if got, ok := ix.Find(fresh.At(i).ID); ix.At(i) != fresh.At(i) || !ok || got != fresh.At(i) {
			t.Fatalf("entry %d is %v, want %v", i, ix.At(i), fresh.At(i))
		}
	}
}

func TestWithLeavesTheOldOne(t *testing.T) {
	entries := sets()["region"]
	old := build(t, entries)
	want := old.Nearest(at(0, 0), len(entries), nil)
	moved := []index.Entry{{ID: want[0].ID, Pos: at(50, 50)}, {ID: "new", Pos: at(0, 0)}}
	next, err := old.With(moved, []string{want[1].ID, want[1].ID})
	if err != nil {
		t.Fatal(err)
	}
	sibling, err := old.With(nil, []string{want[2].ID})
	if err != nil {
		t.Fatal(err)
	}
	sameHits(t, "old", old.Nearest(at(0, 0), len(entries), nil), want)
	if got := next.Nearest(at(0, 0), 2, nil); got[0].ID != "new" || got[1].ID != want[2].ID {
		t.Errorf("next: %v", got)
	}
	if got := sibling.Nearest(at(0, 0), 3, nil); got[1].ID != want[1].ID || got[2].ID != want[3].ID {
		t.Errorf("sibling: %v", got)
	}
}

func TestWithRefuses(t *testing.T) {
	ix := build(t, nil)
	if _, err := ix.With([]index.Entry{{ID: "a", Pos: at(0, 91)}}, nil); err == nil {
		t.Error("a latitude of 91 went through")
	}
	if _, err := ix.With([]index.Entry{{ID: "a"}, {ID: "a"}}, nil); err == nil {
		t.Error("an ID given twice went through")
	}
}

func TestWithPutOutranksDrop(t *testing.T) {
	ix := build(t, []index.Entry{{ID: "a", Pos: at(0, 0)}})
	next, err := ix.With([]index.Entry{{ID: "a", Pos: at(1, 1)}}, []string{"a"})
	if err != nil {
		t.Fatal(err)
	}
	if got, ok := next.Find("a"); !ok || got.Pos != at(1, 1) || next.Len() != 1 {
		t.Errorf("%v, %v", got, ok)
	}
}

// TestWithWhileReading means something under the race detector: readers of one
// index while several others are made of it.
func TestWithWhileReading(t *testing.T) {
	entries := sets()["region"][:500]
	ix := build(t, entries)
	want := scan(entries, at(0, 0))[:50]
	var group sync.WaitGroup
	for worker := range 4 {
		group.Go(func() {
			for range 20 {
				if !slices.Equal(ix.Nearest(at(0, 0), 50, nil), want) {
					t.Error("a reader saw the changes of others")
				}
			}
		})
		group.Go(func() {
			latest := ix
			for round := range 10 {
				next, err := latest.With([]index.Entry{{ID: fmt.Sprintf("w%d-%d", worker, round), Pos: at(0, 0)}}, []string{entries[round].ID})
				if err != nil {
					t.Error(err)
					return
				}
				latest = next
			}
			if latest.Len() != len(entries) {
				t.Errorf("%d entries after as many drops as puts", latest.Len())
			}
		})
	}
	group.Wait()
}
