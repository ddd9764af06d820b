package sheet_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
)

func scattered(n int, r *rand.Rand, lat float64) []sheet.MapBore {
	outcomes := geo.Outcomes()
	var all []sheet.MapBore
	for range n {
		all = append(all, sheet.MapBore{
			At:      coord.LonLat{Lon: r.Float64()*0.4 - 0.2, Lat: lat + r.Float64()*0.4 - 0.2},
			Outcome: outcomes[r.IntN(len(outcomes))],
		})
	}
	return all
}

// TestBlurTellsTheSquareAlone: bores moved about within their squares come out at the same
// places, whatever their order; so the places tell the square and nothing more.
func TestBlurTellsTheSquareAlone(t *testing.T) {
	const side = 5000.0
	r := rand.New(rand.NewPCG(1, 1))
	for _, lat := range []float64{0, -12, 45, 70} {
		bores := scattered(300, r, lat)
		first := sheet.Blur(bores, side)
		moved := slices.Clone(first) // each to its own place in the square again, which is in the same square
		r.Shuffle(len(moved), func(i, j int) { moved[i], moved[j] = moved[j], moved[i] })
		again := sheet.Blur(moved, side)
		for i := range first {
			if near(first[i].At, again[i].At) > 1e-6 || first[i].Outcome != again[i].Outcome {
				t.Fatalf("at %v: %+v, then %+v", lat, first[i], again[i])
			}
		}
		count := map[geo.Outcome]int{}
		for i := range bores {
			count[bores[i].Outcome]++
			count[first[i].Outcome]--
		}
		for outcome, n := range count {
			if n != 0 {
				t.Errorf("%s: %d bores were lost or made", outcome, n)
			}
		}
	}
}

// TestBlurStaysInTheSquare: a bore alone in its square comes out in the middle, so never
// further off than half a diagonal, and on the average as far as a point of a square is
// from its middle: 0.3826 sides (a standard integral, (√2 + ln(1+√2))/6).
func TestBlurStaysInTheSquare(t *testing.T) {
	const side = 5000.0
	r := rand.New(rand.NewPCG(2, 2))
	sum, n := 0.0, 4000
	for range n {
		b := scattered(1, r, 30)
		off := near(b[0].At, sheet.Blur(b, side)[0].At)
		if off > side/math.Sqrt2*1.01 {
			t.Errorf("%v is shown %v m off", b[0].At, off)
		}
		sum += off
	}
	want := (math.Sqrt2 + math.Log(1+math.Sqrt2)) / 6
	const tol = 0.012 // three standard errors of 4,000 draws, and 1 % for squares on a globe
	if got := sum / float64(n) / side; math.Abs(got-want) > tol {
		t.Errorf("bores are shown %.4f sides off, want %.4f", got, want)
	}
}

// near is a distance in metres on a sphere; enough for a few kilometres.
func near(a, b coord.LonLat) float64 {
	const metresPerDegree = 111_320
	x := (a.Lon - b.Lon) * math.Cos((a.Lat+b.Lat)/2*math.Pi/180)
	return math.Hypot(x, a.Lat-b.Lat) * metresPerDegree
}

// Many bores of one square are set apart, so that each shows.
func TestBlurSetsBoresApart(t *testing.T) {
	var bores []sheet.MapBore
	for i := range 7 {
		bores = append(bores, sheet.MapBore{At: coord.LonLat{Lon: 0.001, Lat: 0.001 * float64(i%3)}, Outcome: geo.Dry})
	}
	out := sheet.Blur(bores, 5000)
	for i, a := range out {
		for _, b := range out[:i] {
			if near(a.At, b.At) < 1000 {
				t.Errorf("%v and %v lie on each other", a.At, b.At)
			}
		}
	}
	if len(sheet.Blur(nil, 5000)) != 0 {
		t.Error("bores out of nothing")
	}
}
