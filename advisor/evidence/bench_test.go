package evidence_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"testing"
	"time"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// country makes n bores as it is asked for them, each with its own strings, six layers
// and a level, as a knowledge base would; half of them in clusters, as villages are.
type country struct {
	n     int
	saved int // changes so far, each of another bore
}

func (c *country) bore(i int) geo.Bore {
	rng := rand.New(rand.NewPCG(uint64(i), 41))
	lon, lat := rng.Float64()*10-5, rng.Float64()*10-5
	if i%2 == 0 {
		village := rand.New(rand.NewPCG(uint64(rng.IntN(2000)), 42))
		lon, lat = village.Float64()*10-5+rng.NormFloat64()*0.02, village.Float64()*10-5+rng.NormFloat64()*0.02
	}
	b := geo.Bore{
		ID: idOf(i), Code: fmt.Sprintf("K-%d", i), Method: geo.Method(own("sludging")), Outcome: geo.Outcome(own("producing")),
		Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}}), DepthM: geo.Some(20.0),
		Completed: geo.Some(geo.Date{Year: 2011, Month: 1 + i%12}),
		Levels:    []geo.Level{{State: geo.LevelState(own("rest")), DepthM: geo.Some(rng.Float64() * 15)}},
	}
	for k := range 6 {
		b.Layers = append(b.Layers, geo.Layer{TopM: float64(3 * k), BaseM: float64(3*k + 3), Class: soil.Class(1 + rng.IntN(soil.Count)), Confidence: 1})
	}
	return b
}

// own is a copy in its own memory, as every text read from a file is.
func own(s string) string { return string([]byte(s)) }

func (c *country) Seq(context.Context) (int64, error) { return int64(c.saved), nil }

func (c *country) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for i := range c.n {
		if err := fn(c.bore(i)); err != nil {
			return err
		}
	}
	return nil
}

func (c *country) ChangedSince(_ context.Context, seq int64) (ids []geo.BoreID, last int64, err error) {
	for i := int(seq); i < c.saved; i++ {
		ids = append(ids, c.changed(i).ID)
	}
	return ids, int64(c.saved), nil
}

// changed is the bore of the i-th change, which moves it.
func (c *country) changed(i int) geo.Bore {
	b := c.bore(i * 7919 % c.n)
	b.Position = geo.Some(coord.Reading{Pos: c.bore(i*7919%c.n + c.n).Position.Or(coord.Reading{}).Pos})
	return b
}

func (c *country) BoresByID(_ context.Context, ids []geo.BoreID, fn func(geo.Bore) error) error {
	return fn(c.changed(c.saved - 1)) // asked after each change
}

func heapBytes() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// BenchmarkLoad reports, beside the time, the bytes that a snapshot takes for a bore with
// six layers and a level. The time contains the making of the records, see BenchmarkMake.
func BenchmarkLoad(b *testing.B) {
	src := &country{n: 100_000}
	for b.Loop() {
		before := heapBytes()
		s := load(b, src)
		b.ReportMetric(float64(heapBytes()-before)/float64(s.Len()), "bytes/bore")
		runtime.KeepAlive(s)
	}
}

// BenchmarkMake is the baseline of BenchmarkLoad: the records alone.
func BenchmarkMake(b *testing.B) {
	src := &country{n: 100_000}
	for b.Loop() {
		if err := src.Bores(b.Context(), func(geo.Bore) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAdvance is one saved bore in a country of a million: it must reach advice
// within a second. Reported are the slowest step in a hundred, the time of the load, and
// the memory of the whole snapshot.
func BenchmarkAdvance(b *testing.B) {
	if os.Getenv("WATERSTRIKE_LONG") == "" {
		b.Skip("loads a million bores; set WATERSTRIKE_LONG=1")
	}
	src := &country{n: 1_000_000}
	before, began := heapBytes(), time.Now()
	s := load(b, src)
	loading := time.Since(began)
	size := heapBytes() - before
	var steps []time.Duration
	for b.Loop() {
		src.saved++
		began := time.Now()
		s = advance(b, s, src)
		steps = append(steps, time.Since(began))
	}
	slices.Sort(steps)
	slow := steps[len(steps)*99/100]
	b.ReportMetric(loading.Seconds(), "s/load")
	b.ReportMetric(float64(size)/1e6, "MB")
	b.ReportMetric(float64(slow)/1e6, "p99-ms")
	if s.Len() != src.n || slow > time.Second {
		b.Errorf("%d bores, a step takes %v", s.Len(), slow)
	}
}

var _ evidence.Source = (*country)(nil)
