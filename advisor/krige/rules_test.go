package krige_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// Merged readings with errors predict what all of them predict; the group says where
// each went.
func TestMergeLeavesPredictions(t *testing.T) {
	data := edit(plain(scatter(25, 30000, 4)), func(i int, d *krige.Datum) { d.ErrVar = 0.3 + 0.1*float64(i%4) })
	for _, i := range []int{3, 3, 8, 20} {
		twin := data[i]
		twin.Value, twin.ErrVar = twin.Value+1.5, 0.7
		data = append(data, twin)
	}
	merged, group, err := krige.Merge(data, 0)
	if err != nil || len(merged) != 25 || group[25] != 3 || group[26] != 3 || group[27] != 8 || group[28] != 20 {
		t.Fatal(len(merged), group, err)
	}
	all, one := solver(t, data, spherical(t), krige.Ordinary{}), solver(t, merged, spherical(t), krige.Ordinary{})
	at, _ := targets()
	for _, p := range at {
		want, err1 := all.Predict(p)
		got, err2 := one.Predict(p)
		if err1 != nil || err2 != nil || !near(got.Mean, want.Mean, 1e-11) || !near(got.Variance, want.Variance, 1e-11) {
			t.Errorf("%+v, want %+v, %v, %v", got, want, err1, err2)
		}
	}
}

func TestMergeDuplicates(t *testing.T) {
	data := []krige.Datum{
		{XY: krige.XY{X: 0}, Value: 1},
		{XY: krige.XY{X: 3}, Value: 5},
		{XY: krige.XY{X: 0}, Value: 3},
		{XY: krige.XY{X: 0}, Value: 90, ErrVar: 2},
		{XY: krige.XY{X: 6}, Value: 7, ErrVar: 1},
		{XY: krige.XY{X: 9}, Value: 7},
	}
	merged, group, err := krige.Merge(data, 0)
	if err != nil || !slices.Equal(group, []int{0, 1, 0, 0, 2, 3}) || merged[0].Value != 2 || merged[0].ErrVar != 0 {
		t.Errorf("%+v %v %v", merged, group, err)
	}
	// Within 3.5 m: 3 joins 0; 6 may not join 3, which has joined; 9 joins 6.
	merged, group, err = krige.Merge(data, 3.5)
	if err != nil || !slices.Equal(group, []int{0, 0, 0, 0, 1, 1}) || merged[0].Value != 3 || merged[1].Value != 7 || merged[1].X != 6 {
		t.Errorf("%+v %v %v", merged, group, err)
	}
	// What the solver refuses, merged: twins 1 mm apart under a smooth model.
	close := []krige.Datum{{Value: 1}, {XY: krige.XY{X: 0.001}, Value: 2}, {XY: krige.XY{X: 5000}, Value: 3}}
	merged, _, err = krige.Merge(close, 0.01)
	if err != nil || len(merged) != 2 {
		t.Fatal(merged, err)
	}
	solver(t, merged, structure(t, variogram.FamilyMatern52, 0, 1, 10000), krige.Ordinary{})
	var bad *variogram.ParameterError
	if _, _, err := krige.Merge(close, -1); !errors.As(err, &bad) {
		t.Error("negative distance:", err)
	}
	close[1].Value = math.NaN()
	if _, _, err := krige.Merge(close, 0); !errors.Is(err, variogram.ErrNotFinite) {
		t.Error("NaN:", err)
	}
}

// Drifts that the data cannot tell: refused with a number, or left out as said.
func TestCollinearDrift(t *testing.T) {
	base := scatter(30, 30000, 4)
	at, drift := targets()
	for _, c := range []struct {
		name  string
		extra func(d krige.Datum) float64
	}{
		{"does not vary", func(krige.Datum) float64 { return 0.1 }},
		{"varies by rounding", func(d krige.Datum) float64 { return 1e9 + 1e-7*d.Drift[0] }},
		{"repeats another", func(d krige.Datum) float64 { return 3 - 2*d.Drift[0] }},
		{"is all 0", func(krige.Datum) float64 { return 0 }},
	} {
		data := edit(base, func(_ int, d *krige.Datum) { d.Drift = []float64{d.Drift[0], c.extra(*d)} })
		var bad *variogram.ConditionError
		s, err := krige.NewSolver(spherical(t), universal(t, 2))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Fit(data); !errors.As(err, &bad) || !(bad.Number > variogram.MaxCondition) {
			t.Errorf("%s: %v", c.name, err)
		}
		two, err := krige.NewUniversal(2)
		if err != nil {
			t.Fatal(err)
		}
		sparing := solver(t, data, spherical(t), two.Sparing())
		if !slices.Equal(sparing.LeftOut(), []int{1}) {
			t.Errorf("%s: left out %v", c.name, sparing.LeftOut())
		}
		without := solver(t, base, spherical(t), universal(t, 1))
		for i := range at {
			got, err1 := sparing.Predict(at[i], drift[i], 77)
			want, err2 := without.Predict(at[i], drift[i])
			if err := errors.Join(err1, err2); err != nil || !near(got.Mean, want.Mean, 1e-12) || !near(got.Variance, want.Variance, 1e-12) {
				t.Errorf("%s, target %d: %+v, want %+v, %v", c.name, i, got, want, err)
			}
			sum := 0.0
			for _, w := range sparing.Weights() {
				sum += w
			}
			if !near(sum, 1, 1e-12) {
				t.Errorf("%s, target %d: weights sum to %g", c.name, i, sum)
			}
		}
		got, err1 := sparing.LeaveOneOut()
		want, err2 := without.LeaveOneOut()
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		same(t, c.name+", one out", got, want, func(v float64) float64 { return v }, func(v float64) float64 { return v })
	}
}

// A drift may vary in the region and not among the neighbours of one target.
func TestLocalLeavesOutDrift(t *testing.T) {
	two, err := krige.NewUniversal(2)
	if err != nil {
		t.Fatal(err)
	}
	data := edit(scatter(200, 30000, 4), func(_ int, d *krige.Datum) {
		west := 0.0
		if d.X < 15000 {
			west = 1
		}
		d.Drift = []float64{west, d.Drift[0]}
	})
	p := local(t, data, spherical(t), two.Sparing(), krige.Neighbourhood{Nearest: 12})
	for at, want := range map[krige.XY][]int{{X: 3000, Y: 15000}: {0}, {X: 15000, Y: 15000}: nil, {X: 27000, Y: 15000}: {0}} {
		if _, err := p.Predict(at, 1, 0.2); err != nil || !slices.Equal(p.LeftOut(), want) {
			t.Errorf("at %v: left out %v, want %v, %v", at, p.LeftOut(), want, err)
		}
	}
}

// The number grows as two drifts come to say the same.
func TestTermConditionGrows(t *testing.T) {
	last := 1.0
	for _, apart := range []float64{1, 1e-1, 1e-2, 1e-3, 1e-4} {
		data := edit(scatter(30, 30000, 4), func(i int, d *krige.Datum) {
			d.Drift = []float64{d.Drift[0], d.Drift[0] + apart*math.Sin(float64(i))}
		})
		s := solver(t, data, spherical(t), universal(t, 2))
		if s.TermCondition() < 2*last || len(s.LeftOut()) > 0 {
			t.Errorf("drifts apart by %g: condition %g after %g, left out %v", apart, s.TermCondition(), last, s.LeftOut())
		}
		last = s.TermCondition()
	}
	if got := solver(t, plain(scatter(30, 30000, 4)), spherical(t), krige.Ordinary{}).TermCondition(); got != 1 {
		t.Errorf("no drift: %g", got)
	}
}
