package variogram_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/advisor/variogram"
)

// checkLogLik compares the rows of one case with the reference (own dense
// evaluation in R, confirmed by geoR 1.9-6).
func checkLogLik(t *testing.T, tab table, name string, points []variogram.XY, z []float64, drift [][]float64) {
	t.Helper()
	seen := 0
	for i, row := range tab.rows {
		if row["case"] != name {
			continue
		}
		seen++
		m := structureOf(t, variogram.Family(row["model"]), tab.number(i, "tau2"), tab.number(i, "sigma2"), tab.number(i, "phi"))
		const tol = 1e-11 // 14 digits are printed; sums over 155 pivots
		for method, col := range map[variogram.Method]string{variogram.ML: "loglik_ML", variogram.REML: "loglik_REML"} {
			got, err := variogram.LogLikelihood(points, z, nil, drift, m, method)
			if err != nil || relative(got.LogLik, tab.number(i, col)) > tol {
				t.Errorf("%s %s: %.14g, want %s, %v", name, col, got.LogLik, row[col], err)
			}
			for k, b := range got.Trend {
				if relative(b, tab.number(i, "b"+string(rune('0'+k)))) > 1e-10 {
					t.Errorf("%s b%d: %.14g, want %v", name, k, b, row)
				}
			}
		}
	}
	if seen == 0 {
		t.Errorf("no reference row for %s", name)
	}
}

func TestLogLikelihoodReference(t *testing.T) {
	points, z, sqrtDist := meuse(t)
	tab := reference(t, "reml/loglik_fixed.csv")
	checkLogLik(t, tab, "logzinc_const", points, z, nil)
	checkLogLik(t, tab, "logzinc_sqrtdist", points, z, [][]float64{sqrtDist})
}

// The wolfcamp data may be read but not copied into this repository.
func TestLogLikelihoodWolfcamp(t *testing.T) {
	shared := os.Getenv("WATERSTRIKE_SHARED")
	if shared == "" {
		shared = filepath.Join("..", "..", "..", "shared")
	}
	dir := filepath.Join(shared, "reference", "reml")
	if _, err := os.Stat(filepath.Join(dir, "wolfcamp.csv")); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("wolfcamp.csv is missing: set WATERSTRIKE_SHARED to the folder that holds reference/reml")
		}
		t.Skip("wolfcamp.csv is missing: set WATERSTRIKE_SHARED to the folder that holds reference/reml")
	}
	data := readTable(t, filepath.Join(dir, "wolfcamp.csv"))
	points, head := data.points(), data.column("head")
	tab := readTable(t, filepath.Join(dir, "loglik_fixed.csv"))
	checkLogLik(t, tab, "wolfcamp_const", points, head, nil)
	checkLogLik(t, tab, "wolfcamp_linear", points, head, [][]float64{data.column("x"), data.column("y")})
}

// A reading error common to all data acts like tau2 on distinct points.
func TestLogLikelihoodErrorVariance(t *testing.T) {
	points, z, _ := meuse(t)
	tab := reference(t, "reml/loglik_fixed.csv")
	e := make([]float64, len(z))
	for i := range e {
		e[i] = 0.04
	}
	got, err := variogram.LogLikelihood(points, z, e, nil, structureOf(t, variogram.FamilyExponential, 0.01, 0.6, 300), variogram.REML)
	if want := tab.number(0, "loglik_REML"); err != nil || math.Abs(got.LogLik-want) > 1e-10 {
		t.Errorf("%.14g, want %.14g, %v", got.LogLik, want, err)
	}
}
