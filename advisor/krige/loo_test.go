package krige_test

import (
	"errors"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

func TestLeaveOneOutReference(t *testing.T) {
	data := meuse(t)
	tab := reference(t, "meuse/loocv.csv")
	sixteen := krige.Neighbourhood{Nearest: 16}
	for prefix, f := range map[string]func() ([]krige.Estimate, error){
		"ok_global":          solver(t, plain(data), spherical(t), krige.Ordinary{}).LeaveOneOut,
		"ok_n16":             local(t, plain(data), spherical(t), krige.Ordinary{}, sixteen).LeaveOneOut,
		"ok_exp_n16":         local(t, plain(data), exponential(t), krige.Ordinary{}, sixteen).LeaveOneOut,
		"uk_sqrtdist_global": solver(t, data, sphericalDrift(t), universal(t, 1)).LeaveOneOut,
		"uk_sqrtdist_n16":    local(t, data, sphericalDrift(t), universal(t, 1), sixteen).LeaveOneOut,
	} {
		got, err := f()
		if err != nil || len(got) != len(tab.Rows) {
			t.Fatal(prefix, len(got), err)
		}
		for i, e := range got {
			if !near(e.Mean, tab.Number(i, prefix+"_pred"), refTol) || !near(e.Variance, tab.Number(i, prefix+"_var"), refTol) {
				t.Errorf("%s datum %d: %+v, want %v", prefix, i, e, tab.Rows[i])
			}
		}
	}
}

// The closed form against fitting n times, with reading errors and every trend.
func TestLeaveOneOutIsRefit(t *testing.T) {
	data := withErrors(t, meuse(t))
	for name, trend := range map[string]krige.Trend{"simple": simple(t, 5.9), "ordinary": krige.Ordinary{}, "universal": universal(t, 1)} {
		use := data
		if trend.Drifts() == 0 {
			use = plain(data)
		}
		got, err := solver(t, use, spherical(t), trend).LeaveOneOut()
		if err != nil {
			t.Fatal(err)
		}
		for i := range use {
			rest := append(append([]krige.Datum(nil), use[:i]...), use[i+1:]...)
			want, err := solver(t, rest, spherical(t), trend).Predict(use[i].XY, use[i].Drift...)
			// Condition numbers here stay below 1e4: twelve digits remain.
			if err != nil || !near(got[i].Mean, want.Mean, 1e-11) || !near(got[i].Variance, want.Variance, 1e-11) {
				t.Errorf("%s datum %d: %+v, want %+v, %v", name, i, got[i], want, err)
			}
		}
	}
}

func TestLeaveOneOutTooFew(t *testing.T) {
	s, err := krige.NewSolver(spherical(t), krige.Ordinary{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.LeaveOneOut(); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("before a fit:", err)
	}
	if err := s.Fit([]krige.Datum{{Value: 1}}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.LeaveOneOut(); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("one datum:", err)
	}
	// Only datum 4 has a drift: without it the slope is free.
	lone := edit(scatter(12, 30000, 4), func(i int, d *krige.Datum) {
		d.Drift = []float64{0}
		if i == 4 {
			d.Drift = []float64{1}
		}
	})
	if _, err := solver(t, lone, spherical(t), universal(t, 1)).LeaveOneOut(); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("a slope from one datum:", err)
	}
}
