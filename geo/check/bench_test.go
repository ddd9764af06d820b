package check_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/check"
)

// many is a country of 100,000 bores in clusters, as villages are.
func many() *region {
	r := &region{}
	draw := rand.New(rand.NewPCG(3, 5))
	for i := range 100_000 {
		b := sound()
		b.ID = geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012d", i))
		v := i / 50
		b.Position = at(float64(v%40)*0.2+0.02*draw.NormFloat64(), float64(v/40)*0.2+0.02*draw.NormFloat64())
		b.Place, b.Code = fmt.Sprint("Village ", v), fmt.Sprint("M-", i)
		b.DepthM = geo.Some(8 + 10*draw.Float64())
		b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(2 + 5*draw.Float64())}}
		r.Memory.Bores = append(r.Memory.Bores, b)
	}
	return r
}

func BenchmarkAcross(b *testing.B) {
	r := many()
	b.ReportAllocs()
	for b.Loop() {
		err := check.Across(context.Background(), r, check.DefaultOptions(), func(geo.Issue) error { return nil })
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(r.Memory.Bores)), "µs/bore")
}

func BenchmarkBore(b *testing.B) {
	bore := sound()
	for b.Loop() {
		check.Bore(bore, today)
	}
}
