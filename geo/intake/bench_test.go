package intake_test

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"runtime"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

const benchMapping = `{
  "dataset": "bench", "within": [-1, -1, 1, 1],
  "tables": [
    {"file": "bores.csv", "kind": "bores", "key": ["code"], "position": {"kind": "lon-lat", "lon": "lon", "lat": "lat"},
      "fields": {"code": {"column": "code"}, "depth": {"column": "depth", "unit": "m"}, "level": {"column": "level", "unit": "m"},
        "levelDate": {"column": "date"}, "completed": {"column": "date"}, "method": {"column": "method"},
        "outcome": {"column": "outcome"}, "yield": {"column": "yield", "unit": "L/s"}}},
    {"file": "layers.csv", "kind": "layers", "key": ["code"], "fields": {
      "top": {"column": "from", "unit": "m"}, "base": {"column": "to", "unit": "m"}, "words": {"column": "words"}}}
  ]
}`

// counting is a sink that keeps nothing.
type counting struct{ bores, parts, issues, rows int }

func (c *counting) AddBore(string, geo.Bore) error         { c.bores++; return nil }
func (c *counting) AddPart(string, string, int, any) error { c.parts++; return nil }
func (c *counting) AddVillage(geo.Village) error           { return nil }
func (c *counting) AddWaterPoint(geo.WaterPoint) error     { return nil }
func (c *counting) AddIssue(geo.Issue) error               { c.issues++; return nil }
func (c *counting) CountRow(string)                        { c.rows++ }

// written is a file made up row by row while it is read, so that it takes no memory.
type written struct {
	head string
	row  func(i int) string
	n    int
	at   int
	rest []byte
}

func (w *written) Read(p []byte) (int, error) {
	for len(w.rest) < len(p) && w.at < w.n {
		if w.at == 0 {
			w.rest = append(w.rest, w.head...)
		}
		w.rest = append(w.rest, w.row(w.at)...)
		w.at++
	}
	if len(w.rest) == 0 {
		return 0, io.EOF
	}
	n := copy(p, w.rest)
	w.rest = w.rest[:copy(w.rest, w.rest[n:])]
	return n, nil
}

func (w *written) Close() error               { return nil }
func (w *written) Stat() (fs.FileInfo, error) { return nil, fs.ErrInvalid }

type bench int // bores

const layersEach = 6

func (n bench) Open(name string) (fs.File, error) {
	words := []string{"topsoil", "sandy clay", "CLAY GREY SANDY", "sable fin", "cascalho", "weathered granite water bearing"}
	if name == "bores.csv" {
		return &written{n: int(n), head: "code,lon,lat,depth,level,date,method,outcome,yield\n", row: func(i int) string {
			return fmt.Sprintf("B-%d,%.5f,%.5f,24,%.1f,2019-%02d-14,auger,producing,0.%d\n",
				i, float64(i%1999)/2000, float64(i%1777)/2000, 3+float64(i%100)/10, i%12+1, i%9+1)
		}}, nil
	}
	return &written{n: int(n) * layersEach, head: "code,from,to,words\n", row: func(i int) string {
		k := i % layersEach
		return fmt.Sprintf("B-%d,%d,%d,%s\n", i/layersEach, 4*k, 4*k+4, words[k])
	}}, nil
}

// The whole intake with the store may take 60 s for 100,000 bores and 600,000 layers;
// reading is the share measured here. heap-MB is what is held at the end beyond the
// start: the ids of the bores.
func BenchmarkRead(b *testing.B) {
	m := load(b, benchMapping)
	const bores = 100_000
	for b.Loop() {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		peak := uint64(0)
		var sink counting
		start := time.Now()
		got, err := intake.Read(context.Background(), m, bench(bores), &sink, func(_ string, rows int) {
			if rows%50_000 == 0 {
				runtime.ReadMemStats(&after)
				peak = max(peak, after.HeapInuse)
			}
		})
		if err != nil || got.Bores != bores || sink.parts != bores*layersEach || sink.issues != 0 {
			b.Fatal(got, err)
		}
		b.ReportMetric(float64(got.Rows)/time.Since(start).Seconds(), "rows/s")
		b.ReportMetric(float64(peak-before.HeapInuse)/1e6, "heap-MB")
	}
}

// Memory must not grow with the layers of a file.
func TestReadHoldsNoLayers(t *testing.T) {
	m := load(t, benchMapping)
	m.Tables = m.Tables[1:]
	grown := func(bores int) float64 {
		var before, at runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		last := uint64(0)
		_, err := intake.Read(context.Background(), m, bench(bores), &counting{}, func(_ string, rows int) {
			if rows == bores*layersEach {
				runtime.GC()
				runtime.ReadMemStats(&at)
				last = at.HeapAlloc
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		return float64(last) - float64(before.HeapAlloc)
	}
	const slack = 2e6 // bytes: the vocabulary, and what the collector has not yet found
	small, large := grown(500), grown(20_000)
	if large > small+slack {
		t.Errorf("%.0f bytes held after 3,000 layers, %.0f after 120,000", small, large)
	}
}
