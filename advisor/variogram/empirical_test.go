package variogram_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"

	"waterstrike/advisor/variogram"
)

func TestEmpiricalReference(t *testing.T) {
	points, z, sqrtDist := meuse(t)
	alpha, beta := stat.LinearRegression(sqrtDist, z, nil, false)
	residual := make([]float64, len(z))
	for i := range z {
		residual[i] = z[i] - alpha - beta*sqrtDist[i]
	}
	const cutoff = 1596.62261595462 // diagonal of the data's box / 3
	for _, c := range []struct {
		file          string
		values        []float64
		est           variogram.Estimator
		width, cutoff float64
	}{
		{"variogram_classical.csv", z, variogram.Matheron, cutoff / 15, cutoff},
		{"variogram_cressie.csv", z, variogram.CressieHawkins, cutoff / 15, cutoff},
		{"variogram_cutoff1500_width100.csv", z, variogram.Matheron, 100, 1500},
		{"variogram_residual_sqrtdist.csv", residual, variogram.Matheron, cutoff / 15, cutoff},
	} {
		t.Run(c.file, func(t *testing.T) {
			want := reference(t, "meuse/"+c.file)
			bins, err := variogram.Empirical(points, c.values, c.est, c.width, c.cutoff)
			if err != nil || len(bins) != len(want.Rows) {
				t.Fatalf("%d bins, want %d, error %v", len(bins), len(want.Rows), err)
			}
			const tol = 1e-12 // reference printed with 15 digits; sums of up to 1,000 terms
			for i, b := range bins {
				if b.Pairs != int(want.Number(i, "np")) ||
					relative(b.DistanceM, want.Number(i, "dist")) > tol ||
					relative(b.Gamma, want.Number(i, "gamma")) > tol {
					t.Errorf("bin %d: %+v, want %v", i, b, want.Rows[i])
				}
			}
		})
	}
}

func TestEmpiricalBinEdges(t *testing.T) {
	points := []variogram.XY{{X: 0}, {X: 0}, {X: 10}, {X: 20}, {X: 31}}
	z := []float64{1, 2, 4, 8, 16}
	bins, err := variogram.Empirical(points, z, variogram.Matheron, 10, 30)
	if err != nil {
		t.Fatal(err)
	}
	// By hand: distances 0, 10, 10, 10 | 11, 20, 20 | 21 | two of 31 beyond the cutoff.
	for i, want := range []int{4, 3, 1} {
		if bins[i].Pairs != want {
			t.Errorf("bin %d holds %d pairs, want %d", i, bins[i].Pairs, want)
		}
	}
}

func TestEmpiricalErrors(t *testing.T) {
	two := []variogram.XY{{X: 0}, {X: 100}}
	var bad *variogram.ParameterError
	for _, c := range []struct {
		name          string
		points        []variogram.XY
		values        []float64
		width, cutoff float64
		check         func(error) bool
	}{
		{"one point", two[:1], []float64{1}, 10, 50, func(e error) bool { return errors.Is(e, variogram.ErrTooFewData) }},
		{"no pair in reach", two, []float64{1, 2}, 10, 50, func(e error) bool { return errors.Is(e, variogram.ErrTooFewData) }},
		{"NaN value", two, []float64{1, math.NaN()}, 10, 200, func(e error) bool { return errors.Is(e, variogram.ErrNotFinite) }},
		{"zero width", two, []float64{1, 2}, 0, 200, func(e error) bool { return errors.As(e, &bad) }},
		{"cutoff below width", two, []float64{1, 2}, 10, 5, func(e error) bool { return errors.As(e, &bad) }},
		{"unequal lengths", two, []float64{1}, 10, 200, func(e error) bool { return errors.As(e, &bad) }},
	} {
		if _, err := variogram.Empirical(c.points, c.values, variogram.Matheron, c.width, c.cutoff); !c.check(err) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
