package sheet

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/ui/draw"
)

// Gathered by squares there are as many people, as many of them with water, and their
// middle is where it was.
func TestBySquaresLosesNobody(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	var all []draw.Vessel
	for range 5000 {
		all = append(all, draw.Vessel{At: draw.Point{X: 9e4 * rng.Float64(), Y: 4e4 * rng.NormFloat64()}, Amount: 1 + 500*rng.Float64(), Share: rng.Float64()})
	}
	sum := func(list []draw.Vessel) (people, served, x, y float64) {
		for _, v := range list {
			people, served = people+v.Amount, served+v.Amount*v.Share
			x, y = x+v.Amount*v.At.X, y+v.Amount*v.At.Y
		}
		return people, served, x, y
	}
	few := bySquares(all)
	if len(few) > 31*31 || len(few) < 100 {
		t.Fatalf("%d vessels of %d", len(few), len(all))
	}
	p, s, x, y := sum(all)
	fp, fs, fx, fy := sum(few)
	for _, pair := range [][2]float64{{p, fp}, {s, fs}, {x, fx}, {y, fy}} {
		if math.Abs(pair[0]-pair[1]) > 1e-9*math.Abs(pair[0]) {
			t.Errorf("%v became %v", pair[0], pair[1])
		}
	}
}
