package draw_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/ui/draw"
)

func TestTicks(t *testing.T) {
	// Worked by hand: steps of 1, 2 or 5 times a power of ten.
	tests := []struct {
		name   string
		lo, hi float64
		n      int
		want   []float64
	}{
		{"tens", 0, 40, 4, []float64{0, 10, 20, 30, 40}},
		{"twos", 0, 9, 5, []float64{0, 2, 4, 6, 8}},
		{"fives off zero", 3, 21, 4, []float64{5, 10, 15, 20}},
		{"tenths stay tidy", 0, 0.5, 5, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5}},
		{"below zero", -10, 10, 4, []float64{-10, -5, 0, 5, 10}},
		{"one part", 0, 1, 1, []float64{0, 1}},
		{"empty axis", 5, 5, 4, nil},
		{"upside down", 5, 1, 4, nil},
		{"no parts", 0, 1, 0, nil},
		{"not a number", math.NaN(), 1, 4, nil},
		{"infinite", 0, math.Inf(1), 4, nil},
		{"span overflows", -math.MaxFloat64, math.MaxFloat64, 4, nil},
		{"finer than the numbers", 1e16, 1e16 + 2, 4, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := draw.Ticks(tt.lo, tt.hi, tt.n); !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

func TestTicksLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		lo := (r.Float64() - 0.5) * math.Pow(10, 6*r.Float64())
		hi := lo + math.Pow(10, 8*r.Float64()-3)
		n := 1 + r.IntN(10)
		got := draw.Ticks(lo, hi, n)
		slack := 1e-6 * (hi - lo) // ends kept against rounding, and tidying to 12 digits
		if !slices.IsSorted(got) || len(got) > 2*n+1 {
			t.Fatalf("Ticks(%v, %v, %d) = %v: not rising or too many", lo, hi, n, got)
		}
		if len(got) > 0 && (got[0] < lo-slack || got[len(got)-1] > hi+slack) {
			t.Fatalf("Ticks(%v, %v, %d) = %v: outside", lo, hi, n, got)
		}
	}
}

func TestCover(t *testing.T) {
	// Worked by hand: steps of 1, 2 or 5 times a power of ten, ends outwards.
	tests := []struct {
		name   string
		lo, hi float64
		n      int
		want   []float64
	}{
		{"round already", 0, 40, 4, []float64{0, 10, 20, 30, 40}},
		{"end outwards", 0, 41, 4, []float64{0, 10, 20, 30, 40, 50}},
		{"both ends outwards", 3, 21, 4, []float64{0, 5, 10, 15, 20, 25}},
		{"tenths stay tidy", 0.1, 0.3, 2, []float64{0.1, 0.2, 0.3}},
		{"across zero", -1, 9, 2, []float64{-5, 0, 5, 10}},
		{"one part", 0, 0.7, 1, []float64{0, 0.5, 1}},
		{"empty axis", 5, 5, 4, nil},
		{"upside down", 5, 1, 4, nil},
		{"no parts", 0, 1, 0, nil},
		{"not a number", math.NaN(), 1, 4, nil},
		{"infinite", 0, math.Inf(1), 4, nil},
		{"span overflows", -math.MaxFloat64, math.MaxFloat64, 4, nil},
		{"no round value above", 0, 1.75e308, 4, nil},
		{"finer than the numbers", 1e16, 1e16 + 2, 4, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := draw.Cover(tt.lo, tt.hi, tt.n); !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

func TestCoverLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		lo := (r.Float64() - 0.5) * math.Pow(10, 6*r.Float64())
		hi := lo + math.Pow(10, 8*r.Float64()-3)
		n := 1 + r.IntN(10)
		got := draw.Cover(lo, hi, n)
		if len(got) < 2 || len(got) > 2*n+3 {
			t.Fatalf("Cover(%v, %v, %d) = %v: too few or too many", lo, hi, n, got)
		}
		step := got[1] - got[0]
		slack := 1e-6 * step // ends kept against rounding, and tidying to 12 digits
		if got[0] > lo+slack || got[len(got)-1] < hi-slack {
			t.Fatalf("Cover(%v, %v, %d) = %v: an end is not covered", lo, hi, n, got)
		}
		if got[0] <= lo-step-slack || got[len(got)-1] >= hi+step+slack {
			t.Fatalf("Cover(%v, %v, %d) = %v: a part is empty", lo, hi, n, got)
		}
		checkRound(t, got)
	}
}

// checkRound holds ticks to whole multiples of 1, 2 or 5 times a power of ten.
func checkRound(t *testing.T, ticks []float64) {
	t.Helper()
	step := ticks[1] - ticks[0]
	lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-4))
	near := func(a, b, tol float64) bool { return math.Abs(a-b) <= tol }
	const tol = 1e-3 // differences of numbers up to 10^9 steps, tidied to 12 digits
	if !near(lead, 1, tol) && !near(lead, 2, 2*tol) && !near(lead, 5, 5*tol) {
		t.Fatalf("ticks %v have the step %v", ticks, step)
	}
	for i, v := range ticks {
		if !near(v/step, math.Round(v/step), tol*max(1, math.Abs(v/step))) || !near(v, ticks[0]+float64(i)*step, tol*step*float64(len(ticks))) {
			t.Fatalf("ticks %v: %v is no multiple of %v", ticks, v, step)
		}
	}
}
