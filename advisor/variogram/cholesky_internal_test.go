package variogram

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// alikeMatrix is a matrix of covariances of n places in a plane.
func alikeMatrix(n int) []float64 {
	rng, at, v := rand.New(rand.NewPCG(uint64(n), 1)), make([]XY, n), make([]float64, n*n)
	for i := range at {
		at[i] = XY{X: rng.Float64(), Y: rng.Float64()}
		for j := range i + 1 {
			v[i*n+j] = math.Exp(-at[i].DistanceTo(at[j]) / 0.3)
		}
		v[i*n+i] += 0.1
	}
	return v
}

func byLapack(v []float64, n int) bool {
	_, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Uplo: blas.Lower, Data: v})
	return ok
}

func TestFactorAgainstLapack(t *testing.T) {
	for _, n := range []int{1, 2, 31, 32, 33, 64, 100, 257} {
		got := alikeMatrix(n)
		want := slices.Clone(got)
		if !factor(got, n) || !byLapack(want, n) {
			t.Fatalf("%d rows: not factored", n)
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-12 {
				t.Fatalf("%d rows: %v, want %v", n, got[i], want[i])
			}
		}
		bad := alikeMatrix(n)
		bad[(n-1)*n+n-1] = -1
		if factor(bad, n) {
			t.Errorf("%d rows: a matrix that is not positive definite is factored", n)
		}
		bad[(n-1)*n+n-1] = math.NaN()
		if factor(bad, n) {
			t.Errorf("%d rows: what is no number is factored", n)
		}
	}
}

// BenchmarkFactor is held against the library's factor.
func BenchmarkFactor(b *testing.B) {
	for name, f := range map[string]func([]float64, int) bool{"own": factor, "lapack": byLapack} {
		for _, n := range []int{120, 400, 600} {
			b.Run(fmt.Sprint(name, "/", n), func(b *testing.B) {
				from := alikeMatrix(n)
				v := slices.Clone(from)
				for b.Loop() {
					copy(v, from)
					f(v, n)
				}
			})
		}
	}
}
