package coord_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/geo/coord"
)

// Lengths through space are those of the geodesic, which is checked against reference data.
func TestSpaceMeasures(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		a := coord.LonLat{Lon: rng.Float64()*360 - 180, Lat: rng.Float64()*176 - 88}
		far, most := math.Pow(10, rng.Float64()*5)*10, 2e-7
		b := coord.NewPlane(a).LonLat(coord.XY{X: far * rng.Float64() / 2, Y: far * rng.NormFloat64() / 3})
		want := coord.DistanceM(a, b)
		got := coord.ArcM(coord.InSpace(a).ChordM(coord.InSpace(b)))
		switch {
		case want > 1_000_000:
			continue
		case want > 100_000:
			most = 2e-5
		}
		if math.Abs(got-want) > most*want+1e-8 {
			t.Fatalf("%v to %v: %v m, want %v", a, b, got, want)
		}
	}
}
