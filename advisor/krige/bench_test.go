package krige_test

import (
	"errors"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// exampleModel is 0.3 m² of micro-scale variance and 6 m² over 5 km.
func exampleModel() (variogram.Model, error) {
	part, err1 := variogram.NewExponential(6, 5000)
	s, err2 := variogram.NewStructure(0.3, part)
	return s, errors.Join(err1, err2)
}

// The reference run: gstat 2.1-0 on 100,000 uniform points in a 100 km square,
// exponential, partial sill 16, range parameter 10 km, nugget 1, 32 neighbours, mean
// and variance: 48.8 to 64.5 µs of CPU per cell. The figure is half of that or less.
func speedCase(b *testing.B, n int) *krige.Predictor {
	b.Helper()
	m := structure(b, variogram.FamilyExponential, 1, 16, 10000)
	return local(b, plain(scatter(n, 1e5, 20240607)), m, krige.Ordinary{}, krige.DefaultNeighbourhood())
}

// BenchmarkScattered predicts at random places: every search starts cold.
func BenchmarkScattered(b *testing.B) {
	p := speedCase(b, 100000)
	r := rand.New(rand.NewPCG(1, 1))
	at := make([]krige.XY, 1<<14)
	for i := range at {
		at[i] = krige.XY{X: 1e5 * r.Float64(), Y: 1e5 * r.Float64()}
	}
	i := 0
	for b.Loop() {
		if _, err := p.Predict(at[i&(len(at)-1)]); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// BenchmarkGrid predicts along the rows of a 500 x 500 grid, as the reference does.
func BenchmarkGrid(b *testing.B) {
	p := speedCase(b, 100000)
	i := 0
	for b.Loop() {
		at := krige.XY{X: 200 * (float64(i%500) + 0.5), Y: 200 * (float64(i/500%500) + 0.5)}
		if _, err := p.Predict(at); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// BenchmarkTogether predicts the same grid in blocks of three by three cells; an
// operation is one cell.
func BenchmarkTogether(b *testing.B) {
	p := speedCase(b, 100000)
	dst := make([]krige.Estimate, 9)
	i := 0
	for b.Loop() {
		if i%9 == 0 {
			k := i / 9
			at := block(krige.XY{X: 600 * (float64(k%166) + 0.5), Y: 600 * (float64(k/166%166) + 0.5)}, 200)
			if err := p.PredictTogether(dst, at, nil); err != nil {
				b.Fatal(err)
			}
		}
		i++
	}
}

// BenchmarkSectors is BenchmarkScattered with eight sectors.
func BenchmarkSectors(b *testing.B) {
	m := structure(b, variogram.FamilyExponential, 1, 16, 10000)
	p := local(b, plain(scatter(100000, 1e5, 20240607)), m, krige.Ordinary{}, krige.Neighbourhood{Nearest: 32, Sectors: 8})
	r := rand.New(rand.NewPCG(1, 1))
	for b.Loop() {
		if _, err := p.Predict(krige.XY{X: 1e5 * r.Float64(), Y: 1e5 * r.Float64()}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSolve is the system alone, neighbours given.
func BenchmarkSolve(b *testing.B) {
	data := plain(scatter(32, 1800, 3))
	s, err := krige.NewSolver(structure(b, variogram.FamilyExponential, 1, 16, 10000), krige.Ordinary{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := s.Solve(data, krige.XY{X: 900, Y: 900}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkNewLocal is the cost of preparing the data.
func BenchmarkNewLocal(b *testing.B) {
	data := plain(scatter(100000, 1e5, 20240607))
	for b.Loop() {
		if _, err := krige.NewLocal(data, spherical(b), krige.Ordinary{}, krige.DefaultNeighbourhood()); err != nil {
			b.Fatal(err)
		}
	}
}
