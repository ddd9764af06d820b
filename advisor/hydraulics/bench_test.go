package hydraulics_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"

	"gonum.org/v1/gonum/integrate/quad"
)

// The baseline: ∫ e⁻ˣ/x over ln x by Gauss and Legendre, to the same twelve digits.
func BenchmarkW(b *testing.B) {
	us := make([]float64, 256)
	rng := rand.New(rand.NewPCG(1, 1))
	for i := range us {
		us[i] = math.Pow(10, -9+10*rng.Float64())
	}
	b.Run("W", func(b *testing.B) {
		sum := 0.0
		for i := range b.N {
			w, err := hydraulics.W(us[i%len(us)])
			if err != nil {
				b.Fatal(err)
			}
			sum += w
		}
		if !(sum > 0) {
			b.Fatal(sum)
		}
	})
	b.Run("quadrature", func(b *testing.B) {
		sum := 0.0
		for i := range b.N {
			sum += quad.Fixed(func(y float64) float64 { return math.Exp(-math.Exp(y)) }, math.Log(us[i%len(us)]), math.Log(40), 200, quad.Legendre{}, 1)
		}
		if !(sum > 0) {
			b.Fatal(sum)
		}
	})
}

func BenchmarkStoredWell(b *testing.B) {
	a, w := hydraulics.Aquifer{TM2D: 1, Storage: 1e-3}, hydraulics.Well{RadiusM: 0.075, OpenRadiusM: 0.055}
	for range b.N {
		if _, err := hydraulics.StoredWell(a, w, 20, 0.01); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFitTheis(b *testing.B) {
	series := []hydraulics.Series{at30(), at90()}
	for range b.N {
		if _, err := hydraulics.FitTheis(oudeKorendijkM3D, series); err != nil {
			b.Fatal(err)
		}
	}
}
