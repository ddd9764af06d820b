package store_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"

	"github.com/google/uuid"
)

// region draws n bores of six layers and one level each, around 0 N 0 E.
type region struct {
	rng *rand.Rand
	n   int
}

func newRegion(n int) region { return region{rand.New(rand.NewPCG(1, uint64(n))), n} }

func (r region) bore(i int) geo.Bore {
	day := geo.Date{Year: 2004 + i%20, Month: 1 + i%12, Day: 1 + i%28}
	return geo.Bore{
		ID:   geo.BoreID(uuid.NewSHA1(uuid.NameSpaceURL, fmt.Appendf(nil, "demo/%d", i)).String()),
		Code: fmt.Sprintf("B%06d", i), Place: fmt.Sprintf("Place %d", i%977),
		Position: geo.Some(coord.Reading{
			Pos:    coord.LonLat{Lon: r.rng.Float64()*4 - 2, Lat: r.rng.Float64()*4 - 2},
			AsRead: "0.1234 0.5678", CRS: "WGS 84", PrecisionM: 5.5,
		}),
		Completed: geo.Some(day), Method: "auger", Outcome: geo.Producing,
		DepthM: geo.Some(18.0), YieldLPS: geo.Some(r.rng.Float64()),
		Source: geo.Provenance{File: "bores.csv", Row: i + 1},
	}
}

func (r region) layers() []geo.Layer {
	out := make([]geo.Layer, 6)
	for j := range out {
		out[j] = geo.Layer{
			TopM: float64(j) * 3, BaseM: float64(j+1) * 3, Words: "sandy clay",
			Class: soil.Class(1 + r.rng.IntN(soil.Count)), Confidence: 0.9,
		}
	}
	return out
}

func (r region) level(day geo.Opt[geo.Date]) geo.Level {
	return geo.Level{State: geo.LevelRest, DepthM: geo.Some(r.rng.Float64() * 12), On: day}
}

// draft fills a draft as a reader of two tables does.
func (r region) draft(t testing.TB, path string) *store.Draft {
	t.Helper()
	d, err := store.NewDraft(context.Background(), path)
	must(t, err)
	for i := range r.n {
		b := r.bore(i)
		b.Levels = []geo.Level{r.level(b.Completed)}
		d.CountRow("bores.csv")
		must(t, d.AddBore(b.Code, b))
	}
	row := 0
	for i := range r.n {
		for _, l := range r.layers() {
			row++
			d.CountRow("layers.csv")
			must(t, d.AddPart(fmt.Sprintf("B%06d", i), "layers.csv", row, l))
		}
	}
	must(t, d.Finish())
	return d
}

// Figure: intake of 100,000 bores and 600,000 layers in 60 s, reading the files included.
func BenchmarkImport100k(b *testing.B) {
	for b.Loop() {
		dir := b.TempDir()
		start := time.Now()
		d := newRegion(100_000).draft(b, filepath.Join(dir, "draft.db"))
		b.ReportMetric(time.Since(start).Seconds(), "s/draft")
		base, err := store.Create(filepath.Join(dir, "ground.gpkg"), store.DefaultOptions())
		must(b, err)
		start = time.Now()
		_, err = base.Apply(context.Background(), d, me, store.How{})
		must(b, err)
		b.ReportMetric(time.Since(start).Seconds(), "s/apply")
		start = time.Now()
		n := 0
		must(b, base.Bores(context.Background(), func(v geo.Bore) error { n += len(v.Layers); return nil }))
		b.ReportMetric(time.Since(start).Seconds(), "s/stream")
		if n != 600_000 {
			b.Fatal(n)
		}
		must(b, d.Close())
		must(b, base.Close())
		info, err := os.Stat(base.Path())
		must(b, err)
		b.ReportMetric(float64(info.Size())/1e6, "MB")
	}
}

// streamed is a base of n bores, built once for the streaming benchmarks.
func streamed(b *testing.B, n int) *store.Base {
	b.Helper()
	dir := os.Getenv("WATERSTRIKE_BENCH_BASE") // a kept base saves minutes at 1,000,000
	if dir == "" {
		dir = b.TempDir()
	}
	path := filepath.Join(dir, fmt.Sprintf("ground-%d.gpkg", n))
	if base, err := store.Open(path, store.DefaultOptions()); err == nil {
		return base
	}
	draft := filepath.Join(dir, fmt.Sprintf("draft-%d.db", n))
	d := newRegion(n).draft(b, draft)
	base, err := store.Create(path, store.DefaultOptions())
	must(b, err)
	_, err = base.Apply(context.Background(), d, me, store.How{})
	must(b, err)
	must(b, d.Close())
	must(b, os.Remove(draft))
	return base
}

// Figure: a base of 1,000,000 bores, 6,000,000 layers and 1,000,000 levels is open to its
// first answer in 30 s; of that, reading may take 20 s.
func BenchmarkStream(b *testing.B) {
	n := 100_000
	if os.Getenv("WATERSTRIKE_LONG") == "1" {
		n = 1_000_000
	}
	base := streamed(b, n)
	defer base.Close()
	for b.Loop() {
		layers := 0
		must(b, base.Bores(context.Background(), func(v geo.Bore) error { layers += len(v.Layers); return nil }))
		if layers != 6*n {
			b.Fatal(layers)
		}
	}
}

func BenchmarkSaveBore(b *testing.B) {
	base := newBase(b)
	i := 0
	for b.Loop() {
		i++
		must(b, base.SaveBore(context.Background(), storetest.FullBore(i), me))
	}
}

// One bore out of many, with all its parts.
func BenchmarkBore(b *testing.B) {
	base := streamed(b, 100_000)
	defer base.Close()
	id := newRegion(100_000).bore(77).ID
	for b.Loop() {
		bore(b, base, id)
	}
}
