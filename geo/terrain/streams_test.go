package terrain_test

import (
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/terrain"
)

// A valley that falls to the south, with sides that fall to it: its stream runs down the
// middle column, every cell of it once, and a side valley joins it without a gap.
func TestStreams(t *testing.T) {
	const rows, cols, middle, joins = 30, 21, 10, 15
	g, err := terrain.NewGrid(terrain.Frame{Rows: rows, Cols: cols, West: 1, North: 1, CellX: 0.001, CellY: 0.001})
	if err != nil {
		t.Fatal(err)
	}
	for row := range rows {
		for col := range cols {
			z := 100 - float64(row) + 3*max(float64(col-middle), float64(middle-col))
			if row == joins && col > middle {
				z -= 2 // a gully from the east
			}
			g.Set(row, col, z)
		}
	}
	flow, err := terrain.Route(t.Context(), g, geo.Opt[float64]{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	up, err := flow.Accumulate(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	w, h := g.CellM(rows / 2)
	streams := flow.Streams(up, flow.Drainage(up, 8*w*h))
	if len(streams) == 0 {
		t.Fatal("no stream")
	}
	visits := map[[2]int]int{}
	for _, s := range streams {
		if s.AreaM2 < 7.9*w*h {
			t.Errorf("a stream that drains %v m²", s.AreaM2)
		}
		for i, p := range s.Line {
			row, col := int((1-p[1])/0.001), int((p[0]-1)/0.001)
			if !flow.Drainage(up, 8*w*h).At(row, col) {
				t.Fatalf("row %d column %d is no drainage", row, col)
			}
			if i+1 < len(s.Line) {
				visits[[2]int{row, col}]++
			}
			if i == 0 {
				continue
			}
			was := s.Line[i-1]
			next, nextCol, ok := flow.Next(int((1-was[1])/0.001), int((was[0]-1)/0.001))
			if !ok || next != row || nextCol != col {
				t.Fatalf("from %v the water does not go to %v", was, p)
			}
		}
	}
	for cell, n := range visits {
		if n != 1 {
			t.Errorf("%v is passed %d times", cell, n)
		}
	}
	for row := 12; row < rows-1; row++ {
		if visits[[2]int{row, middle}] != 1 {
			t.Errorf("the stream does not pass row %d of the valley", row)
		}
	}
	larger := false
	for _, s := range streams {
		larger = larger || s.AreaM2 > 100*w*h
	}
	if !larger {
		t.Error("the stream is told by one size from end to end")
	}
}
