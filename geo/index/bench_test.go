package index_test

import (
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"
	"sync"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/index"
)

const million = 1_000_000

// millionEntries lie over a country of 10 by 10 degrees, half of them in 2,000
// clusters of a few km, as villages are.
var millionEntries = sync.OnceValue(func() []index.Entry {
	r := rand.New(rand.NewPCG(5, 7))
	anywhere := func() coord.LonLat { return at(r.Float64()*10-5, r.Float64()*10-5) }
	villages := make([]coord.LonLat, 2000)
	for i := range villages {
		villages[i] = anywhere()
	}
	entries := make([]index.Entry, million)
	for i := range entries {
		pos := anywhere()
		if i%2 == 0 {
			v := villages[r.IntN(len(villages))]
			pos = at(v.Lon+r.NormFloat64()*0.02, v.Lat+r.NormFloat64()*0.02)
		}
		entries[i] = index.Entry{ID: strconv.Itoa(million + i), Pos: pos}
	}
	r.Shuffle(million, func(i, j int) { entries[i], entries[j] = entries[j], entries[i] })
	return entries
})

var millionIndex = sync.OnceValue(func() *index.Index {
	ix, err := index.New(millionEntries())
	if err != nil {
		panic(err)
	}
	return ix
})

func asked() []coord.LonLat {
	r := rand.New(rand.NewPCG(6, 7))
	ask := make([]coord.LonLat, 1000)
	for i := range ask {
		ask[i] = at(r.Float64()*9-4.5, r.Float64()*9-4.5)
	}
	return ask
}

func heapBytes() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// BenchmarkNew reports, beside the time, the bytes an entry takes in the index,
// the characters of its ID excepted (they are shared with the caller).
func BenchmarkNew(b *testing.B) {
	entries := millionEntries()
	for b.Loop() {
		before := heapBytes()
		ix, err := index.New(entries)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(heapBytes()-before)/float64(ix.Len()), "bytes/entry")
	}
}

func BenchmarkNearest(b *testing.B) {
	ix, ask := millionIndex(), asked()
	var hits []index.Hit
	i := 0
	for b.Loop() {
		hits = ix.Nearest(ask[i%len(ask)], 32, hits[:0])
		i++
	}
	if len(hits) != 32 {
		b.Fatal(len(hits))
	}
}

// BenchmarkNearestScan is the baseline: measure all and sort.
func BenchmarkNearestScan(b *testing.B) {
	entries, ask := millionEntries(), asked()
	i := 0
	for b.Loop() {
		if hits := scan(entries, ask[i%len(ask)]); len(hits) != million {
			b.Fatal(len(hits))
		}
		i++
	}
}

func BenchmarkWithin10km(b *testing.B) {
	ix, ask := millionIndex(), asked()
	i, found := 0, 0
	for b.Loop() {
		found += len(ix.Within(ask[i%len(ask)], 10e3))
		i++
	}
	b.ReportMetric(float64(found)/float64(i), "hits/op")
}

func BenchmarkWith(b *testing.B) {
	for _, n := range []int{1, 1000} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			ix, ask := millionIndex(), asked()
			put := make([]index.Entry, n)
			for i := range put {
				put[i] = index.Entry{ID: "x" + strconv.Itoa(i), Pos: ask[i%len(ask)]}
			}
			for b.Loop() {
				if _, err := ix.With(put, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The fastest answers must still be the right ones at this size.
func TestMillionAgainstScan(t *testing.T) {
	ix, entries := millionIndex(), millionEntries()
	for _, p := range asked()[:2] {
		near := slices.DeleteFunc(slices.Clone(entries), func(e index.Entry) bool {
			return max(e.Pos.Lon-p.Lon, p.Lon-e.Pos.Lon, e.Pos.Lat-p.Lat, p.Lat-e.Pos.Lat) > 1
		})
		sameHits(t, "of a million", ix.Nearest(p, 200, nil), scan(near, p)[:200])
	}
}
