package variogram_test

import (
	"math"
	"testing"

	"waterstrike/advisor/variogram"
	"waterstrike/geo/outside"
)

// checkLogLik compares the rows of one case with the reference (own dense
// evaluation in R, confirmed by geoR 1.9-6).
func checkLogLik(t *testing.T, tab table, name string, points []variogram.XY, z []float64, drift [][]float64) {
	t.Helper()
	seen := 0
	for i, row := range tab.Rows {
		if row["case"] != name {
			continue
		}
		seen++
		m := structureOf(t, variogram.Family(row["model"]), tab.Number(i, "tau2"), tab.Number(i, "sigma2"), tab.Number(i, "phi"))
		const tol = 1e-11 // 14 digits are printed; sums over 155 pivots
		for method, col := range map[variogram.Method]string{variogram.ML: "loglik_ML", variogram.REML: "loglik_REML"} {
			got, err := variogram.LogLikelihood(points, z, nil, drift, m, method)
			if err != nil || relative(got.LogLik, tab.Number(i, col)) > tol {
				t.Errorf("%s %s: %.14g, want %s, %v", name, col, got.LogLik, row[col], err)
			}
			for k, b := range got.Trend {
				if relative(b, tab.Number(i, "b"+string(rune('0'+k)))) > 1e-10 {
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

// sharedReml is a table of the reference that may be read but not copied into this
// repository, as the wolfcamp data and what was made of them.
func sharedReml(t *testing.T, name string) table {
	t.Helper()
	return table{outside.ReadTable(t, outside.Shared(t, "reference", "reml", name))}
}

func wolfcamp(t *testing.T) (points []variogram.XY, head []float64) {
	t.Helper()
	data := sharedReml(t, "wolfcamp.csv")
	return data.points(), data.Column("head")
}

func TestLogLikelihoodWolfcamp(t *testing.T) {
	points, head := wolfcamp(t)
	data, tab := sharedReml(t, "wolfcamp.csv"), sharedReml(t, "loglik_fixed.csv")
	checkLogLik(t, tab, "wolfcamp_const", points, head, nil)
	checkLogLik(t, tab, "wolfcamp_linear", points, head, [][]float64{data.Column("x"), data.Column("y")})
}

// Optima with a linear trend that are single and true; the exponential ones alone, as
// the spherical may stand on one of several tops.
func TestFitWolfcamp(t *testing.T) {
	points, head := wolfcamp(t)
	data, fit := sharedReml(t, "wolfcamp.csv"), sharedReml(t, "likfit.csv")
	for i, row := range fit.Rows {
		if row["case"] != "wolfcamp linear trend" || row["model"] != "exponential" {
			continue
		}
		opts := variogram.Options{
			Method: map[string]variogram.Method{"ML": variogram.ML, "REML": variogram.REML}[row["method"]],
			Drift:  [][]float64{data.Column("x"), data.Column("y")}, Range: variogram.RangeBounds{MinM: 10, MaxM: 5000},
		}
		_, rep, err := variogram.Fit(points, head, nil, opts)
		// The REML top is flat: 1e-5 of log-likelihood is some 3 % of the range there.
		if err != nil || math.Abs(rep.LogLik-fit.Number(i, "opt_loglik")) > 1e-5 || relative(rep.RangeParameterM, fit.Number(i, "opt_phi")) > 0.04 ||
			relative(rep.PartialSill, fit.Number(i, "opt_sigma2")) > 0.04 || relative(rep.Micro, fit.Number(i, "opt_tau2")) > 0.04 {
			t.Errorf("%v: %+v, %v", row, rep, err)
		}
		for k, col := range []string{"opt_b0", "opt_b1", "opt_b2"} {
			if relative(rep.Trend[k], fit.Number(i, col)) > 1e-2 {
				t.Errorf("%s: %g, want %s", col, rep.Trend[k], row[col])
			}
		}
	}
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
	if want := tab.Number(0, "loglik_REML"); err != nil || math.Abs(got.LogLik-want) > 1e-10 {
		t.Errorf("%.14g, want %.14g, %v", got.LogLik, want, err)
	}
}
