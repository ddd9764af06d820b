package advisor

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// The tabulated distribution is gonum's, and is never outside [0,1].
func TestNormalCDF(t *testing.T) {
	for z := -7.0; z <= 7; z += 1e-3 {
		if got, want := normalCDF(z), distuv.UnitNormal.CDF(z); math.Abs(got-want) > 3e-7 || got < 0 || got > 1 {
			t.Fatalf("below %v: %v, not %v", z, got, want)
		}
	}
	if normalCDF(math.Inf(-1)) != 0 || normalCDF(math.Inf(1)) != 1 {
		t.Error("at the ends")
	}
}

func BenchmarkNormalCDF(b *testing.B) {
	for name, cdf := range map[string]func(float64) float64{
		"table": normalCDF, "erfc": func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 },
	} {
		b.Run(name, func(b *testing.B) {
			sum := 0.0
			for i := 0; b.Loop(); i++ {
				sum += cdf(float64(i%1000)/200 - 2.5)
			}
		})
	}
}
