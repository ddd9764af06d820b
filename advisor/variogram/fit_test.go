package variogram_test

import (
	"math"
	"testing"

	"waterstrike/advisor/variogram"
)

// Optima of the reference that are true and single maxima. Its other optima are
// not used: they sit on one of several maxima or run away with the range.
func TestFitReference(t *testing.T) {
	points, z, sqrtDist := meuse(t)
	fit := reference(t, "reml/likfit.csv")
	drifted := reference(t, "reml/reml_logzinc_sqrtdist.csv")
	wide := variogram.RangeBounds{MinM: 50, MaxM: 50000}
	for _, c := range []struct {
		name                      string
		opts                      variogram.Options
		tau2, sigma2, phi, logLik float64
	}{
		{
			"exponential ML",
			variogram.Options{Method: variogram.ML, Range: wide},
			fit.Number(0, "opt_tau2"), fit.Number(0, "opt_sigma2"), fit.Number(0, "opt_phi"), fit.Number(0, "opt_loglik"),
		},
		{
			"exponential REML with drift",
			variogram.Options{Method: variogram.REML, Drift: [][]float64{sqrtDist}, Range: wide},
			drifted.Number(0, "tau2"), drifted.Number(0, "sigma2"), drifted.Number(0, "phi"), drifted.Number(0, "loglik"),
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			m, rep, err := variogram.Fit(points, z, nil, c.opts)
			if err != nil {
				t.Fatal(err)
			}
			// At a flat top, 1e-6 of log-likelihood is some 1e-3 of a parameter.
			if math.Abs(rep.LogLik-c.logLik) > 1e-5 || relative(rep.RangeParameterM, c.phi) > 5e-3 ||
				relative(rep.PartialSill, c.sigma2) > 5e-3 || relative(rep.Micro, c.tau2) > 5e-3 {
				t.Errorf("got %+v, want %+v", rep, c)
			}
			if !rep.RangeIdentified() || math.Abs(m.Sill()-rep.Micro-rep.PartialSill) > 1e-12 {
				t.Errorf("%+v, sill %g", rep, m.Sill())
			}
		})
	}
}

// The spherical likelihood has several maxima (see the profile): none of the
// tabulated places inside the bounds may beat the fit.
func TestFitProfile(t *testing.T) {
	points, z, _ := meuse(t)
	tab := reference(t, "reml/profile_logzinc.csv")
	for _, c := range []struct {
		col    string
		family variogram.Family
		method variogram.Method
	}{
		{"logzinc_sph_ML", variogram.FamilySpherical, variogram.ML},
		{"logzinc_sph_REML", variogram.FamilySpherical, variogram.REML},
		{"logzinc_exp_ML", variogram.FamilyExponential, variogram.ML},
		{"logzinc_exp_REML", variogram.FamilyExponential, variogram.REML},
	} {
		for _, upper := range []float64{1200, 2000, 5000} {
			unit, err := c.family.New(1, 1)
			if err != nil {
				t.Fatal(err)
			}
			bounds := variogram.RangeBounds{MinM: 100 * unit.Range(), MaxM: upper * unit.Range()}
			_, rep, err := variogram.Fit(points, z, nil, variogram.Options{Family: c.family, Method: c.method, Range: bounds})
			if err != nil {
				t.Fatal(err)
			}
			for i := range tab.Rows {
				if phi := tab.Number(i, "phi"); phi <= upper && tab.Number(i, c.col) > rep.LogLik+1e-4 {
					t.Errorf("%s to %g: fit %.6f at %.0f m, but %s at %g m", c.col, upper, rep.LogLik, rep.RangeParameterM, tab.Rows[i][c.col], phi)
				}
			}
		}
	}
}
