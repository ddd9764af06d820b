package variogram

import (
	"math"
	"testing"
)

// The library's exponential is itself good to 1 unit in the last place.
func TestExpNeg(t *testing.T) {
	const ulp = 0x1p-52
	for x := 0.0; x < 760; x += 0.00173 {
		want := math.Exp(-x)
		if got := expNeg(x); math.Abs(got-want) > 2*ulp*want {
			t.Fatalf("exp(-%g) = %g, want %g", x, got, want)
		}
	}
	if expNeg(0) != 1 || expNeg(math.Inf(1)) != 0 || !math.IsNaN(expNeg(math.NaN())) {
		t.Error("special values")
	}
}

// The two side by side, the reason for having our own.
func BenchmarkExpNeg(b *testing.B) {
	for name, exp := range map[string]func(float64) float64{
		"own":     expNeg,
		"library": func(x float64) float64 { return math.Exp(-x) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				for i := range 1000 {
					exp(float64(i) * 0.004)
				}
			}
		})
	}
}
