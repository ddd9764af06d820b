package trust

import (
	"fmt"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/advisortest"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"

	"github.com/google/uuid"
)

// office is n bores of invented regions laid side by side, a degree apart, with ids as
// random as those of an office.
func office(b *testing.B, n int) *evidence.Snapshot {
	b.Helper()
	var all evidencetest.Bores
	for seed := uint64(1); len(all) < n; seed++ {
		for i, bore := range demoland.New(seed).Records().Bores {
			bore.ID = geo.BoreID(uuid.NewSHA1(uuid.Nil, fmt.Append(nil, seed, i)).String())
			if at, ok := bore.Position.Get(); ok {
				at.Pos = coord.LonLat{Lon: at.Pos.Lon + float64(seed), Lat: at.Pos.Lat}
				bore.Position = geo.Some(at)
			}
			all = append(all, bore)
		}
	}
	s, err := evidence.Load(b.Context(), all[:n])
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// BenchmarkRun is an account of 10,000 bores in ten rounds: at most a minute on two cores.
func BenchmarkRun(b *testing.B) {
	s := office(b, 10_000)
	rules, err := advisor.DefaultRules()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		began := time.Now()
		r, err := Run(b.Context(), s, rules, DefaultOptions(), nil)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(r.Asked), "bores")
		if took := time.Since(began); took > time.Minute && runtime.GOMAXPROCS(0) >= 2 {
			b.Errorf("an account of %d bores takes %v", r.Asked, took)
		}
	}
}

// BenchmarkAdvise is the baseline of BenchmarkRun: the same questions with nothing hidden,
// nothing compared and one fit.
func BenchmarkAdvise(b *testing.B) {
	s := office(b, 10_000)
	rules, err := advisor.DefaultRules()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		a, err := advisor.New(b.Context(), s, rules, "")
		if err != nil {
			b.Fatal(err)
		}
		queue := make(chan *evidence.Bore)
		var working sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			working.Go(func() {
				for bore := range queue {
					if _, err := a.Advise(b.Context(), advisor.Question{At: bore.Pos, Seed: 1}); err != nil {
						b.Error(err)
					}
				}
			})
		}
		for _, bore := range s.Bores() {
			queue <- bore
		}
		close(queue)
		working.Wait()
	}
}

// BenchmarkColumn states the layers at 500 bores among 10,000: at most 8 ms a column in the
// middle. Its baseline is the eight nearest logs by depth.
func BenchmarkColumn(b *testing.B) {
	s := office(b, 10_000)
	a := advisortest.Of(b, s)
	others := newLayerTellers(s)
	for name, ask := range map[string]func(coord.LonLat){
		"advisor":       func(at coord.LonLat) { a.At(at).Layers() },
		"eight nearest": func(at coord.LonLat) { others.say(at) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				var times []time.Duration
				for _, bore := range s.Bores()[:500] {
					began := time.Now()
					ask(bore.Pos)
					times = append(times, time.Since(began))
				}
				slices.Sort(times)
				middle := times[len(times)/2]
				b.ReportMetric(middle.Seconds()*1000, "p50-ms")
				b.ReportMetric(times[len(times)*99/100].Seconds()*1000, "p99-ms")
				if middle > 8*time.Millisecond && runtime.GOMAXPROCS(0) >= 2 {
					b.Errorf("a column takes %v", middle)
				}
			}
		})
	}
}
