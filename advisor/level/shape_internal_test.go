package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Every shape has its low at 0 and its high at 1, rises from the one to the other and falls
// back, and each knot is the low of as many.
func TestShapes(t *testing.T) {
	lows := map[int]int{}
	for _, s := range shapes() {
		low, high := 0, 0
		for k, v := range s {
			if v < s[low] {
				low = k
			}
			if v > s[high] {
				high = k
			}
		}
		lows[low]++
		if math.Abs(s[low]) > 1e-12 || math.Abs(s[high]-1) > 1e-12 {
			t.Fatalf("from %v to %v: %v", s[low], s[high], s)
		}
		rises := (high - low + knots) % knots
		for k := range knots {
			step := s[(low+k+1)%knots] - s[(low+k)%knots]
			if k < rises && step < -1e-12 || k >= rises && step > 1e-12 {
				t.Fatalf("turns back at knot %d after its low: %v", k, s)
			}
		}
	}
	for k := range knots {
		if lows[k] != lows[0] {
			t.Errorf("knot %d is the low of %d shapes, knot 0 of %d", k, lows[k], lows[0])
		}
	}
}

// A time of the year lies between two knots, and the end of the year meets its beginning.
func TestKnotted(t *testing.T) {
	for year := 0.0; year < 1; year += 0.013 {
		sum, place := 0.0, 0.0
		for k, w := range knotted(year) {
			sum += w
			if k == 0 && year > 0.5 {
				k = knots
			}
			place += w * float64(k)
		}
		if math.Abs(sum-1) > 1e-12 || math.Abs(place/knots-year) > 1e-12 {
			t.Errorf("%v of the year: weights of %v about %v", year, sum, place/knots)
		}
	}
}

// A course that none of the shapes has exactly, with a recession of the time constant that
// was found in weathered basement, is told from noisy depths: range, month of the low, and
// how far the water stands over it, also in two months that nobody read.
func TestCourseIsAveraged(t *testing.T) {
	const (
		rangeM = 3.2
		low    = 19 // the beginning of the second half of October
		rises  = 7
		tau    = 120.0 / 365 * knots // days into knots
	)
	var was [knots]float64
	for k := range knots {
		since := float64((k - low + knots) % knots)
		if was[k] = rangeM * math.Sin(math.Pi/2*min(since/rises, 1)); since > rises {
			end := math.Exp(-(knots - rises) / tau)
			was[k] = rangeM * (math.Exp(-(since-rises)/tau) - end) / (1 - end)
		}
	}
	for seed := range uint64(5) {
		rng := rand.New(rand.NewPCG(seed, 31))
		// Depths c - over + error at each knot, the constant c taken out.
		const each, sd = 12.0, 0.8
		told := told{mat.NewSymDense(knots, nil), mat.NewVecDense(knots, nil)}
		read, depths, sum, n := [knots]float64{}, [knots]float64{}, 0.0, 0.0
		for k := range knots {
			if k < 4 { // nobody reads in January and February
				continue
			}
			read[k] = each / (sd * sd)
			depths[k] = -was[k] + sd/math.Sqrt(each)*rng.NormFloat64()
			sum, n = sum+read[k]*depths[k], n+read[k]
		}
		for k := range knots {
			for j := range k + 1 {
				told.information.SetSym(k, j, -read[k]*read[j]/n)
			}
			told.information.SetSym(k, k, told.information.At(k, k)+read[k])
			told.right.SetVec(k, read[k]*(depths[k]-sum/n))
		}
		c := told.course(2.5)
		if off := math.Abs(c.rangeM - rangeM); off > 3*math.Sqrt(c.varM2) || c.varM2 > 0.5 {
			t.Errorf("seed %d: range %.2f ± %.2f m, was %v", seed, c.rangeM, math.Sqrt(c.varM2), rangeM)
		}
		// By a month off: in the last month of a recession the water hardly falls any more.
		if s := c.season(DefaultSeason(-1)); s.Low < 9 || s.Low > 11 {
			t.Errorf("seed %d: low in %v", seed, s.Low)
		}
		for k, over := range c.overM {
			if math.Abs(over-was[k]) > 0.7 {
				t.Errorf("seed %d: %.2f m over the low at knot %d, was %.2f", seed, over, k, was[k])
			}
		}
	}
}
