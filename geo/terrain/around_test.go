package terrain_test

import (
	"math"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// On a plane that falls 1 in 100 to the west the ground within r metres lies between r/100
// below and r/100 above, is at a place's own height on the mean, and has a standard deviation
// of r/200, that of a disc's distances from its diameter; at the edge only what there is counts.
func TestAroundByHand(t *testing.T) {
	g, err := terrain.NewGrid(terrain.Frame{Rows: 501, Cols: 501, West: 10, North: 0.07, CellX: 1.0 / 3600, CellY: 1.0 / 3600})
	if err != nil {
		t.Fatal(err)
	}
	width, _ := g.CellM(250)
	each(g.Frame, func(r, c int) { g.Set(r, c, 1000+0.01*width*float64(c)) })
	o := terrain.Defaults()
	shape, err := terrain.Derive(t.Context(), g, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	middle, _ := g.Middle(250, 250)
	a, ok := shape.At(middle).Around.Get()
	if !ok {
		t.Fatal("nothing known about the middle")
	}
	near := func(got, want float64) bool { return math.Abs(got-want) < 0.4 } // a cell is 0.3 m high
	for i, want := range []float64{10, 30, 60} {
		if !near(a.OverLowestM[i], want) {
			t.Errorf("%.2f m over the lowest of radius %d, want %v", a.OverLowestM[i], i, want)
		}
	}
	if !near(a.OverMeanM[0], 0) || !near(a.OverMeanM[1], 0) || math.Abs(a.ReliefM-60) > 0.7 {
		t.Errorf("%+v over the mean, relief %.2f m; want 0 and 60", a.OverMeanM, a.ReliefM)
	}
	for i, want := range []float64{1.25, 2.5} {
		if math.Abs(a.RoughM[i]-want) > 0.1 {
			t.Errorf("rough by %.2f m, radius %d, want %v", a.RoughM[i], i, want)
		}
	}
	west, _ := g.Middle(250, 0)
	edge, ok := shape.At(west).Around.Get()
	if !ok || edge.OverLowestM[1] > 1e-6 || !near(edge.ReliefM, 30) {
		t.Errorf("at the western edge %+v, %v", edge, ok)
	}
	if shape.At(coord.LonLat{Lon: 50, Lat: 50}).Around.Known() {
		t.Error("something is known outside")
	}
}
