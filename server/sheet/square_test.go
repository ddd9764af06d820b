package sheet_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
)

// Positions of one square have the same square, which holds them, is 5 km wide and high,
// and holds the place where the map of outsiders shows them.
func TestSquaresTellNoMore(t *testing.T) {
	const side = 5000
	squares := sheet.Squares(side)
	rng := rand.New(rand.NewPCG(7, 7))
	for range 2000 {
		at := coord.LonLat{Lon: 340*rng.Float64() - 170, Lat: 140*rng.Float64() - 70}
		square := squares(at.Point())
		if !square.Contains(at.Point()) {
			t.Fatalf("%v is not in %v", at, square)
		}
		west := coord.LonLat{Lon: square.Min[0], Lat: square.Center()[1]}
		east := coord.LonLat{Lon: square.Max[0], Lat: square.Center()[1]}
		south, north := coord.LonLat{Lon: at.Lon, Lat: square.Min[1]}, coord.LonLat{Lon: at.Lon, Lat: square.Max[1]}
		// A degree of latitude is 110.6 to 111.7 km on WGS 84; of longitude likewise.
		if w, h := coord.DistanceM(west, east), coord.DistanceM(south, north); math.Abs(w-side) > 0.01*side || math.Abs(h-side) > 0.01*side {
			t.Fatalf("the square of %v is %.0f by %.0f m", at, w, h)
		}
		other := coord.LonLat{
			Lon: square.Min[0] + (0.001+0.998*rng.Float64())*(square.Max[0]-square.Min[0]),
			Lat: square.Min[1] + (0.001+0.998*rng.Float64())*(square.Max[1]-square.Min[1]),
		}
		if got := squares(other.Point()); got != square {
			t.Fatalf("%v has %v, and %v in it has %v", at, square, other, got)
		}
		if shown := sheet.Blur([]sheet.MapBore{{At: at}}, side)[0].At; !square.Contains(shown.Point()) {
			t.Fatalf("%v is shown at %v, out of %v", at, shown, square)
		}
	}
}
