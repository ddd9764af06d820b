package publish_test

import (
	"context"
	"io"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/publish"
)

// endless gives the same bores again and again, and looks how far the writer has come.
type endless struct {
	ground
	bores []geo.Bore
	n     int
	each  func(given int)
}

func (e endless) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for i := range e.n {
		if err := fn(e.bores[i%len(e.bores)]); err != nil {
			return err
		}
		if e.each != nil {
			e.each(i + 1)
		}
	}
	return nil
}

type counter int

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}

// streams are the writers that read bores and have rows for them here.
var streams = map[string]func(context.Context, io.Writer, publish.Source) error{
	"bores.geojson": maps["bores"],
	"bores.csv":     tables["bores"],
	"layers.csv":    tables["layers"],
	"levels.csv":    tables["levels"],
}

// Memory stays flat because nothing is held back: at any time all but a buffer's worth
// of the bores given so far has been written.
func TestStreams(t *testing.T) {
	const n, held = 3000, 1000 // bores; buffers of 4 kB hold fewer than 100
	for name, write := range streams {
		var out counter
		at := map[int]counter{}
		src := endless{ground{}, bores(8), n, func(given int) { at[given] = out }}
		if err := write(t.Context(), &out, src); err != nil {
			t.Fatal(err)
		}
		for given, bytes := range at {
			if want := int(out) * (given - held) / n; int(bytes) < want {
				t.Fatalf("%s: %d bytes after %d bores, want %d", name, bytes, given, want)
			}
		}
	}
}

// BenchmarkWrite reports the cost of one bore with its two layers and two levels.
func BenchmarkWrite(b *testing.B) {
	for name, write := range streams {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			if err := write(b.Context(), io.Discard, endless{ground{}, bores(64), b.N, nil}); err != nil {
				b.Fatal(err)
			}
		})
	}
}
