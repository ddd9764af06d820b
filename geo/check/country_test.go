package check_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/soil"
)

// country is a source of n bores in villages of fifty, made anew at each walk so that only
// what a check itself keeps weighs.
type country struct{ n int }

func (c country) Bores(_ context.Context, fn func(geo.Bore) error) error {
	draw := rand.New(rand.NewPCG(3, 5))
	for i := range c.n {
		if err := fn(c.bore(i, draw)); err != nil {
			return err
		}
	}
	return nil
}

func (c country) bore(i int, draw *rand.Rand) geo.Bore {
	b := sound()
	village := i / 50
	b.ID = geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012d", i))
	b.Position = at(float64(village%400)*0.1+0.01*draw.NormFloat64(), float64(village/400)*0.1+0.01*draw.NormFloat64())
	b.Place, b.Code = fmt.Sprint("Village ", village), fmt.Sprint("M-", i)
	b.Source = geo.Provenance{By: fmt.Sprint("Office ", village%200), File: fmt.Sprint(village%200, ".csv"), Row: i}
	depth := 8 + float64(int(100*draw.Float64()))/10
	b.DepthM = geo.Some(depth)
	b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(2 + float64(int(30*draw.Float64()))/10)}}
	b.Layers = nil
	for j := range 6 {
		b.Layers = append(b.Layers, geo.Layer{
			TopM: depth * float64(j) / 6, BaseM: depth * float64(j+1) / 6, Words: "sandy clay", Class: soil.Class(1 + draw.IntN(soil.Count)),
		})
	}
	return b
}

func (c country) Villages(context.Context, func(geo.Village) error) error { return nil }

func (c country) Boundaries(context.Context, func(geo.Boundary) error) error { return nil }

// BenchmarkCountry checks 100,000 bores, a million under WATERSTRIKE_LONG=1: each by itself
// and all together, as the command does. Figure: some 3 minutes and 1 kB a bore.
func BenchmarkCountry(b *testing.B) {
	c := country{100_000}
	if os.Getenv("WATERSTRIKE_LONG") == "1" {
		c.n = 1_000_000
	}
	for b.Loop() {
		found, peak := 0, uint64(0)
		ended := make(chan bool)
		go watchHeap(&peak, ended)
		err := c.Bores(context.Background(), func(v geo.Bore) error { found += len(check.Bore(v, today)); return nil })
		if err == nil {
			err = check.Across(context.Background(), c, check.DefaultOptions(), func(geo.Issue) error { found++; return nil })
		}
		ended <- true
		<-ended
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(peak)/float64(c.n), "heap-B/bore")
		b.ReportMetric(float64(found)/float64(c.n), "findings/bore")
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*c.n), "µs/bore")
}

// watchHeap notes the most that the heap weighs.
func watchHeap(peak *uint64, ended chan bool) {
	var m runtime.MemStats
	for {
		runtime.ReadMemStats(&m)
		*peak = max(*peak, m.HeapInuse)
		select {
		case <-ended:
			close(ended)
			return
		case <-time.After(50 * time.Millisecond):
		}
	}
}
