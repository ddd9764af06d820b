package advisor

import (
	"context"
	"fmt"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// line is a source of described bores on a line, 1 km apart.
type line int

func (line) Seq(context.Context) (int64, error) { return 1, nil }

func (n line) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for i := range int(n) {
		err := fn(geo.Bore{
			ID:       geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012x", i)),
			Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: float64(i) * 0.009}}),
			Layers:   []geo.Layer{{BaseM: 3, Class: soil.Sand}},
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func (line) ChangedSince(context.Context, int64) ([]geo.BoreID, int64, error) { return nil, 1, nil }

func (line) BoresByID(context.Context, []geo.BoreID, func(geo.Bore) error) error { return nil }

// A sampled log is judged by its true neighbours, which the sample need not hold.
func TestNeighboursOfASample(t *testing.T) {
	s, err := evidence.Load(t.Context(), line(1000))
	if err != nil {
		t.Fatal(err)
	}
	near := neighboursOf(s, s.SampleDescribed(3))(2, 0)
	if len(near) != heldNear {
		t.Fatalf("%d neighbours, want %d", len(near), heldNear)
	}
	const farthest = heldNear * 1002.0 // m: a bore every 0.009 degrees; those of a sample stand three times as far apart
	for i, n := range near {
		if n.DistanceM == 0 || n.DistanceM > farthest || len(n.Log.Cells) != 6 {
			t.Errorf("neighbour %d: %d cells at %v m", i, len(n.Log.Cells), n.DistanceM)
		}
	}
}
