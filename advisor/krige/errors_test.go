package krige_test

import (
	"errors"
	"math"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

func TestDuplicates(t *testing.T) {
	data := plain(scatter(20, 30000, 4))
	data[17].XY = data[3].XY
	var twins *krige.DuplicateError
	s, err := krige.NewSolver(spherical(t), krige.Ordinary{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Fit(data); !errors.As(err, &twins) || twins.I != 3 || twins.J != 17 {
		t.Errorf("exact twins: %v", err)
	}
	if _, err := s.Predict(krige.XY{}); !errors.Is(err, variogram.ErrTooFewData) {
		t.Errorf("prediction after a failed fit: %v", err)
	}
	// The nearest search reorders the data: the names must be the caller's.
	if _, err := local(t, data, spherical(t), krige.Ordinary{}, krige.Neighbourhood{Nearest: 8}).Predict(data[17].XY); !errors.As(err, &twins) || twins.I != 3 || twins.J != 17 {
		t.Errorf("exact twins among the nearest: %v", err)
	}
	data[3].ErrVar, data[17].ErrVar = 2, 0
	if err := s.Fit(data); err != nil {
		t.Errorf("one exact, one not: %v", err)
	}
	e, err := s.Predict(data[3].XY)
	if err != nil || !near(e.Mean, data[17].Value, 1e-12) {
		t.Errorf("the exact twin must win: %+v, want %g, %v", e, data[17].Value, err)
	}
}

// Two readings of one place count as their mean with half the error variance.
func TestDuplicatesWithErrorsAverage(t *testing.T) {
	data := plain(scatter(20, 30000, 4))
	one := edit(data, func(i int, d *krige.Datum) { d.ErrVar = 0.5 })
	two := append([]krige.Datum(nil), one...)
	two = append(two, two[5])
	two[5].Value--
	two[20].Value++
	two[5].ErrVar, two[20].ErrVar = 1, 1
	a, b := solver(t, one, spherical(t), krige.Ordinary{}), solver(t, two, spherical(t), krige.Ordinary{})
	at, _ := targets()
	for _, p := range at {
		want, err1 := a.Predict(p)
		got, err2 := b.Predict(p)
		if err1 != nil || err2 != nil || !near(got.Mean, want.Mean, 1e-11) || !near(got.Variance, want.Variance, 1e-11) {
			t.Errorf("%+v, want %+v, %v, %v", got, want, err1, err2)
		}
	}
}

func TestIllConditioned(t *testing.T) {
	var bad *variogram.ConditionError
	// Smooth model, no micro-scale variance, 1 mm apart: the difference is all rounding.
	m := structure(t, variogram.FamilyMatern32, 0, 1, 10000)
	data := []krige.Datum{{Value: 1}, {XY: krige.XY{X: 0.001}, Value: 2}, {XY: krige.XY{X: 5000}, Value: 3}}
	s, err := krige.NewSolver(m, krige.Ordinary{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Fit(data); !errors.As(err, &bad) || !(bad.Number > variogram.MaxCondition) {
		t.Errorf("data 1 mm apart: %v", err)
	}
	level := edit(scatter(20, 30000, 4), func(_ int, d *krige.Datum) { d.Drift = []float64{4} })
	u, err := krige.NewSolver(spherical(t), universal(t, 1))
	if err != nil {
		t.Fatal(err)
	}
	if err := u.Fit(level); !errors.As(err, &bad) {
		t.Errorf("a drift that does not vary: %v", err)
	}
}

func TestInputErrors(t *testing.T) {
	s, err := krige.NewSolver(spherical(t), krige.Ordinary{})
	if err != nil {
		t.Fatal(err)
	}
	var bad *variogram.ParameterError
	for _, c := range []struct {
		name string
		data []krige.Datum
		ok   func(error) bool
	}{
		{"none", nil, func(e error) bool { return errors.Is(e, variogram.ErrTooFewData) }},
		{"NaN value", []krige.Datum{{Value: math.NaN()}}, func(e error) bool { return errors.Is(e, variogram.ErrNotFinite) }},
		{"infinite place", []krige.Datum{{XY: krige.XY{X: math.Inf(1)}}}, func(e error) bool { return errors.Is(e, variogram.ErrNotFinite) }},
		{"negative error", []krige.Datum{{ErrVar: -1}}, func(e error) bool { return errors.As(e, &bad) }},
		{"NaN error", []krige.Datum{{ErrVar: math.NaN()}}, func(e error) bool { return errors.As(e, &bad) }},
		{"drift nobody asked for", []krige.Datum{{Drift: []float64{1}}}, func(e error) bool { return errors.As(e, &bad) }},
	} {
		if err := s.Fit(c.data); !c.ok(err) {
			t.Errorf("%s: Fit %v", c.name, err)
		}
		l, err := krige.NewLocal(c.data, spherical(t), krige.Ordinary{}, krige.DefaultNeighbourhood())
		if err == nil {
			_, err = l.Predictor().Predict(krige.XY{})
		}
		if !c.ok(err) {
			t.Errorf("%s: local %v", c.name, err)
		}
	}
	if err := s.Fit([]krige.Datum{{Value: 3}}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Predict(krige.XY{Y: math.NaN()}); !errors.Is(err, variogram.ErrNotFinite) {
		t.Error("NaN target:", err)
	}
	if _, err := s.Predict(krige.XY{}, 1); !errors.As(err, &bad) {
		t.Error("drift too many:", err)
	}
	for _, hood := range []krige.Neighbourhood{{}, {Nearest: 4, AtLeast: 5}, {Nearest: 4, DistanceM: -1}, {Nearest: 4, DistanceM: math.NaN()}} {
		if _, err := krige.NewLocal(nil, spherical(t), krige.Ordinary{}, hood); !errors.As(err, &bad) {
			t.Errorf("%+v accepted: %v", hood, err)
		}
	}
	if _, err := krige.NewSolver(nil, krige.Ordinary{}); !errors.As(err, &bad) {
		t.Error("no model:", err)
	}
	if _, err := krige.NewSimple(math.NaN()); !errors.Is(err, variogram.ErrNotFinite) {
		t.Error("NaN mean:", err)
	}
	if _, err := krige.NewUniversal(0); !errors.As(err, &bad) {
		t.Error("no drift:", err)
	}
}
