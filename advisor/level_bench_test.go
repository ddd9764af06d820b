package advisor_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"waterstrike/advisor/advisortest"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// levels is a country of n bores that state a level and nothing else, made as they are
// asked for: half of them in clusters, as villages are.
type levels int

func (n levels) Seq(context.Context) (int64, error) { return 1, nil }

func (n levels) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for i := range int(n) {
		rng := rand.New(rand.NewPCG(uint64(i), 41))
		lon, lat := rng.Float64()*10-5, rng.Float64()*10-5
		if i%2 == 0 {
			village := rand.New(rand.NewPCG(uint64(rng.IntN(int(n)/50)), 42))
			lon, lat = village.Float64()*10-5+rng.NormFloat64()*0.01, village.Float64()*10-5+rng.NormFloat64()*0.01
		}
		low := (6 + 3*math.Sin(30*lon)*math.Cos(30*lat)) * math.Exp(0.2*rng.NormFloat64())
		b := geo.Bore{
			ID: geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012x", i)), Outcome: geo.Producing, DepthM: geo.Some(20.0),
			Position:  geo.Some(coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}}),
			Completed: geo.Some(geo.Date{Year: 2004 + rng.IntN(12), Month: 1 + rng.IntN(12), Day: 1}),
			Levels:    []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(low)}},
		}
		if err := fn(b); err != nil {
			return err
		}
	}
	return nil
}

func (n levels) ChangedSince(context.Context, int64) ([]geo.BoreID, int64, error) { return nil, 1, nil }

func (n levels) BoresByID(context.Context, []geo.BoreID, func(geo.Bore) error) error { return nil }

// BenchmarkLevelAt states the level at 500 points: its baseline is finding the 32 bores
// that each answer reads. At 1,000,000 bores in the long run.
func BenchmarkLevelAt(b *testing.B) {
	sizes := []int{10_000}
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		sizes = append(sizes, 1_000_000)
	}
	for _, n := range sizes {
		s, err := evidence.Load(b.Context(), levels(n))
		if err != nil {
			b.Fatal(err)
		}
		a := advisortest.Of(b, s)
		for name, ask := range map[string]func(coord.LonLat){
			"level": func(at coord.LonLat) {
				if _, ok, err := a.At(at).Level(); err != nil || !ok {
					b.Fatal(ok, err)
				}
			},
			"nearest alone": func(at coord.LonLat) { s.NearestLevelled(at, 32) },
		} {
			b.Run(strconv.Itoa(n)+"/"+name, func(b *testing.B) {
				rng := rand.New(rand.NewPCG(21, 22))
				for b.Loop() {
					times := make([]time.Duration, 500)
					for i := range times {
						start := time.Now()
						ask(coord.LonLat{Lon: rng.Float64()*9 - 4.5, Lat: rng.Float64()*9 - 4.5})
						times[i] = time.Since(start)
					}
					slices.Sort(times)
					b.ReportMetric(times[len(times)/2].Seconds()*1000, "p50-ms")
					b.ReportMetric(times[len(times)*99/100].Seconds()*1000, "p99-ms")
				}
			})
		}
	}
}
