package variogram_test

import (
	"math"
	"testing"

	"waterstrike/advisor/variogram"
)

// What making the reference numbers taught about fitting, a test each; the others stand
// in advisor/krige and geo/coord.

// With a constant mean the restricted likelihood of an exponential model rises with the
// range without end, on two data sets: whatever the bound, it is met and said.
func TestLesson1RangeWithoutEnd(t *testing.T) {
	points, z, _ := meuse(t)
	heads, head := wolfcamp(t)
	for name, c := range map[string]struct {
		points []variogram.XY
		z      []float64
	}{"log zinc": {points, z}, "wolfcamp": {heads, head}} {
		last := math.Inf(-1)
		for _, most := range []float64{1e4, 1e5, 1e6, 1e7} {
			_, rep, err := variogram.Fit(c.points, c.z, nil, variogram.Options{Range: variogram.RangeBounds{MinM: 10, MaxM: most}})
			if err != nil || rep.RangeIdentified() || !rep.AtMaxRange || !rep.RangeOpenAbove() || rep.LogLik < last-1e-4 {
				t.Errorf("%s to %g: %+v after %.5f, %v", name, most, rep, last, err)
			}
			last = rep.LogLik
		}
		t.Logf("%s: %.5f", name, last)
	}
}

// The spherical likelihood has several tops: one start may stand on a lower one.
func TestLesson2SeveralTops(t *testing.T) {
	points, z, _ := meuse(t)
	tab := reference(t, "reml/profile_logzinc.csv")
	var tops []int
	for i := 1; i < len(tab.Rows)-1; i++ {
		v := func(k int) float64 { return tab.Number(k, "logzinc_sph_REML") }
		if v(i) > v(i-1) && v(i) > v(i+1) {
			tops = append(tops, i)
		}
	}
	if len(tops) < 3 {
		t.Fatalf("the profile has %d tops", len(tops))
	}
	bounds := variogram.RangeBounds{MinM: 100, MaxM: 2500}
	_, rep, err := variogram.Fit(points, z, nil, variogram.Options{Family: variogram.FamilySpherical, Range: bounds})
	if err != nil || rep.Starts < 2 {
		t.Fatal(rep, err)
	}
	for _, i := range tops {
		if phi := tab.Number(i, "phi"); phi < bounds.MaxM && tab.Number(i, "logzinc_sph_REML") > rep.LogLik {
			t.Errorf("the top at %g m is higher: %+v", phi, rep)
		}
	}
	if math.Abs(rep.RangeParameterM-1800) > 100 { // the profile's highest below 2,500 m
		t.Errorf("range %.0f m, want near 1,800", rep.RangeParameterM)
	}
}

// Restricted likelihoods of two programs differ by half log|X'X|, a constant of the
// data: 15.77556 for wolfcamp with a linear trend. This one holds it.
func TestLesson2TrendTermIsIn(t *testing.T) {
	tab := reference(t, "reml/loglik_fixed.csv")
	points, z, sqrtDist := meuse(t)
	for i, row := range tab.Rows {
		if row["case"] != "logzinc_sqrtdist" {
			continue
		}
		m := structureOf(t, variogram.Family(row["model"]), tab.Number(i, "tau2"), tab.Number(i, "sigma2"), tab.Number(i, "phi"))
		got, err := variogram.LogLikelihood(points, z, nil, [][]float64{sqrtDist}, m, variogram.REML)
		want := tab.Number(i, "loglik_REML_without_XtX") + tab.Number(i, "half_logdet_XtX")
		if err != nil || math.Abs(got.LogLik-want) > 1e-8 {
			t.Errorf("%.12g, want %.12g, %v", got.LogLik, want, err)
		}
	}
}
