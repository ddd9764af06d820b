package terrain_test

import (
	"math"
	"testing"

	"waterstrike/geo/terrain"
)

// On a plane that falls 1 in 100 to the west the ground within r metres lies between r/100
// below and r/100 above, and is at a place's own height on the mean; at the edge only what
// there is counts.
func TestAroundByHand(t *testing.T) {
	g := blank(t, 501, 501, 30)
	each(g.Frame, func(r, c int) { g.Set(r, c, 1000+0.3*float64(c)) })
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
	near := func(got, want float64) bool { return math.Abs(got-want) < 0.2 } // a cell is 0.3 m high
	for i, want := range []float64{10, 30, 60} {
		if !near(a.OverLowestM[i], want) {
			t.Errorf("%.2f m over the lowest of radius %d, want %v", a.OverLowestM[i], i, want)
		}
	}
	if !near(a.OverMeanM[0], 0) || !near(a.OverMeanM[1], 0) || math.Abs(a.ReliefM-60) > 0.4 {
		t.Errorf("%+v over the mean, relief %.2f m; want 0 and 60", a.OverMeanM, a.ReliefM)
	}
	west, _ := g.Middle(250, 0)
	edge, ok := shape.At(west).Around.Get()
	if !ok || edge.OverLowestM[1] != 0 || !near(edge.ReliefM, 30) {
		t.Errorf("at the western edge %+v, %v", edge, ok)
	}
	if shape.At(west).Around.Known() && shape.At(shiftedWest(west)).Around.Known() {
		t.Error("something is known outside")
	}
}
