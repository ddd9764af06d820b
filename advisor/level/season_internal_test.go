package level

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"waterstrike/geo"
)

// What is read in any month is carried back to the low that it was read from, water near
// the surface included, where the low follows the reading steeply.
func TestToLowUndoesTheSeason(t *testing.T) {
	s := DefaultSeason(1)
	for month := time.January; month <= time.December; month++ {
		g, _ := s.rise(geo.Date{Month: int(month)})
		for y := 0.2; y < 30; y *= 1.3 {
			got, _ := s.toLow(y-g*s.rangeAt(y), geo.Date{Month: int(month)}, 0)
			if math.Abs(got-y) > 1e-3 { // far under any reading error
				t.Errorf("%v: a low of %.3f m comes back as %.3f m", month, y, got)
			}
		}
	}
}

// The stated variance is that of lows worked out from readings that differ by the reading
// error, by simulation.
func TestToLowCarriesTheReadingError(t *testing.T) {
	s := DefaultSeason(1)
	s.RangeSDM = 0
	rng := rand.New(rand.NewPCG(51, 52))
	for _, y := range []float64{0.8, 2, 5, 15} {
		depth := y - s.rangeAt(y) // at the high
		sum, square, n := 0.0, 0.0, 4000.0
		for range int(n) {
			low, _ := s.toLow(max(depth+readingSDM*rng.NormFloat64(), 0), geo.Date{Month: int(s.Low + 6)}, 0)
			sum, square = sum+low, square+low*low
		}
		sd := math.Sqrt(square/n - sum/n*sum/n)
		_, stated := s.toLow(depth, geo.Date{Month: int(s.Low + 6)}, readingSDM*readingSDM)
		// The season's own small error is in the stated one only; near the surface the
		// simulated lows are cut off at the ground.
		if ratio := math.Sqrt(stated) / sd; ratio < 0.7 || ratio > 1.5 {
			t.Errorf("low of %v m: stated error %.2f m, simulated %.2f m", y, math.Sqrt(stated), sd)
		}
	}
}
