package evidence_test

import (
	"sync"
	"testing"
	"time"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

func at(lon, lat float64) coord.Reading {
	return coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}}
}

// While writers save and refresh, every snapshot a reader takes is whole: as many bores
// as outcomes, each found once, and never older than one taken before.
func TestRefreshConcurrent(t *testing.T) {
	const writers, each, readers = 3, 25, 3
	src := newBase()
	live, err := evidence.NewLive(t.Context(), src, nil)
	if err != nil {
		t.Fatal(err)
	}
	var writing, reading sync.WaitGroup
	done := make(chan struct{})
	for w := range writers {
		writing.Go(func() {
			for i := range each {
				src.save(geo.Bore{ID: idOf(w*each + i), Outcome: geo.Producing, Position: geo.Some(at(float64(i)/100, float64(w)/100))})
				if _, err := live.Refresh(t.Context()); err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	for range readers {
		reading.Go(func() {
			for last := 0; ; {
				s := live.Snapshot()
				last = whole(t, s, last)
				select {
				case <-done:
					return
				case <-time.After(100 * time.Microsecond): // leave the writers a core
				}
			}
		})
	}
	writing.Wait()
	close(done)
	reading.Wait()
	if got := live.Snapshot().Len(); got != writers*each {
		t.Errorf("%d bores in the end, want %d", got, writers*each)
	}
}

// whole checks a snapshot of producing bores, and returns its length.
func whole(t *testing.T, s *evidence.Snapshot, last int) int {
	n := s.Len()
	if n < last {
		t.Errorf("%d bores after %d", n, last)
	}
	if s.Rate() != (evidence.Rate{Known: n, Producing: n}) {
		t.Errorf("%d bores, rate %+v", n, s.Rate())
	}
	seen := map[geo.BoreID]bool{}
	for _, near := range s.Nearest(coord.LonLat{}, n+1) {
		seen[near.ID] = true
	}
	if len(seen) != n {
		t.Errorf("%d bores found of %d", len(seen), n)
	}
	return n
}

func TestRefreshReturnsThePresent(t *testing.T) {
	src := newBase()
	live, err := evidence.NewLive(t.Context(), src, nil)
	if err != nil {
		t.Fatal(err)
	}
	if s, err := live.Refresh(t.Context()); err != nil || s != live.Snapshot() || s.ID() != "0" {
		t.Errorf("%v, %v", s, err)
	}
	src.save(geo.Bore{ID: idOf(1), Position: geo.Some(at(0, 0))})
	old := live.Snapshot()
	s, err := live.Refresh(t.Context())
	if err != nil || s == old || s != live.Snapshot() || s.ID() != "1" || s.Len() != 1 || old.Len() != 0 {
		t.Errorf("%v, %v", s, err)
	}
}
