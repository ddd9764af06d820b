package krige_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// scatter draws n data in a square of the given side: value and one drift.
func scatter(n int, side float64, seed uint64) []krige.Datum {
	r := rand.New(rand.NewPCG(seed, 3))
	out := make([]krige.Datum, n)
	for i := range out {
		x, y := side*r.Float64(), side*r.Float64()
		out[i] = krige.Datum{XY: krige.XY{X: x, Y: y}, Value: 20 + 5*math.Sin(x/9000) + 4*math.Cos(y/13000) + r.NormFloat64()}
		out[i].Drift = []float64{math.Sin(y/5000) + 0.1*r.NormFloat64()}
	}
	return out
}

// setting is one combination the laws are tried on.
type setting struct {
	name  string
	model variogram.Structure
	trend krige.Trend
	data  []krige.Datum
}

func settings(t *testing.T) []setting {
	t.Helper()
	var out []setting
	for _, family := range variogram.Families() {
		for _, micro := range []float64{0, 0.8} {
			for name, trend := range map[string]krige.Trend{"simple": simple(t, 20), "ordinary": krige.Ordinary{}, "universal": universal(t, 1)} {
				data := scatter(40, 30000, 4)
				if trend.Drifts() == 0 {
					data = plain(data)
				}
				out = append(out, setting{fmt.Sprintf("%s micro %g %s", family, micro, name), structure(t, family, micro, 9, 4000), trend, data})
			}
		}
	}
	return out
}

// targets are places between, near and far from the data, with a drift.
func targets() (at []krige.XY, drift []float64) {
	r := rand.New(rand.NewPCG(8, 8))
	for range 20 {
		at = append(at, krige.XY{X: 30000 * r.Float64(), Y: 30000 * r.Float64()})
		drift = append(drift, r.Float64())
	}
	return append(at, krige.XY{X: 2e5, Y: -3e5}), append(drift, 0.3)
}

func (s setting) predictAll(t *testing.T) []krige.Estimate {
	t.Helper()
	fit := solver(t, s.data, s.model, s.trend)
	at, drift := targets()
	out := make([]krige.Estimate, len(at))
	for i := range at {
		e, err := fit.Predict(at[i], drift[i:i+s.trend.Drifts()]...)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = e
	}
	return out
}

// same compares to 1e-9 of the values' size: condition numbers of these systems
// stay below 1e6, which leaves ten of sixteen digits.
func same(t *testing.T, law string, got, want []krige.Estimate, mean, variance func(float64) float64) {
	t.Helper()
	for i := range got {
		if !near(got[i].Mean, mean(want[i].Mean), 1e-9*math.Max(1, math.Abs(got[i].Mean))) ||
			!near(got[i].Variance, variance(want[i].Variance), 1e-9*math.Max(1, got[i].Variance)) {
			t.Errorf("%s, target %d: %+v after %+v", law, i, got[i], want[i])
		}
	}
}

func TestLaws(t *testing.T) {
	keep := func(v float64) float64 { return v }
	for _, s := range settings(t) {
		t.Run(s.name, func(t *testing.T) {
			base := s.predictAll(t)
			for i, e := range base {
				if e.Variance < 0 || e.Variance > 20*s.model.Sill() {
					t.Errorf("target %d: variance %g", i, e.Variance)
				}
			}
			s.checkMoves(t, base)
			scaled := s
			scaled.model = structure(t, variogram.Family(familyOf(s)), 7*s.model.Micro(), 7*9, 4000)
			same(t, "scaling the sill", scaled.predictAll(t), base, keep, func(v float64) float64 { return 7 * v })
			other := s
			other.data = edit(s.data, func(i int, d *krige.Datum) { d.Value = float64(i * i) })
			for i, e := range other.predictAll(t) {
				if e.Variance != base[i].Variance {
					t.Errorf("variance depends on values: %g, %g", e.Variance, base[i].Variance)
				}
			}
			if s.trend.Terms() > 0 {
				raised := s
				raised.data = edit(s.data, func(_ int, d *krige.Datum) { d.Value += 1000 })
				same(t, "raising the values", raised.predictAll(t), base, func(v float64) float64 { return v + 1000 }, keep)
				s.checkWeightSum(t)
			}
		})
	}
}

func familyOf(s setting) string {
	name := s.model.Name()
	if s.model.Micro() > 0 {
		return name[len("micro+"):]
	}
	return name
}

// checkMoves shifts and turns data and targets together.
func (s setting) checkMoves(t *testing.T, base []krige.Estimate) {
	t.Helper()
	sin, cos := math.Sincos(0.7)
	move := func(p krige.XY) krige.XY {
		return krige.XY{X: 5e5 + cos*p.X - sin*p.Y, Y: 9e6 + sin*p.X + cos*p.Y}
	}
	fit := solver(t, edit(s.data, func(_ int, d *krige.Datum) { d.XY = move(d.XY) }), s.model, s.trend)
	at, drift := targets()
	for i := range at {
		e, err := fit.Predict(move(at[i]), drift[i:i+s.trend.Drifts()]...)
		// Positions near 1e7 m keep 1e-9 m, which the smallest range turns into 1e-9 of a sill.
		if err != nil || !near(e.Mean, base[i].Mean, 1e-7) || !near(e.Variance, base[i].Variance, 1e-7) {
			t.Errorf("moved target %d: %+v, want %+v, %v", i, e, base[i], err)
		}
	}
}

func (s setting) checkWeightSum(t *testing.T) {
	t.Helper()
	fit := solver(t, s.data, s.model, s.trend)
	at, drift := targets()
	for i := range at {
		e, err := fit.Predict(at[i], drift[i:i+s.trend.Drifts()]...)
		if err != nil {
			t.Fatal(err)
		}
		sum, mean := 0.0, 0.0
		for k, w := range fit.Weights() {
			sum += w
			mean += w * s.data[k].Value
		}
		if !near(sum, 1, 1e-10) || !near(mean, e.Mean, 1e-9) { // 40 weights, values near 20
			t.Errorf("target %d: weights sum to %g and give %g, want %g", i, sum, mean, e.Mean)
		}
	}
}

func TestExactAtData(t *testing.T) {
	for _, s := range settings(t) {
		fit := solver(t, s.data, s.model, s.trend)
		for _, d := range s.data {
			e, err := fit.Predict(d.XY, d.Drift...)
			if err != nil || !near(e.Mean, d.Value, 1e-9) || !near(e.Variance, 0, 1e-9) { // as same
				t.Errorf("%s: %+v at a datum of %g, %v", s.name, e, d.Value, err)
			}
		}
	}
}

// Not knowing the mean, then a slope, can only add variance.
func TestVarianceRisesWithIgnorance(t *testing.T) {
	data := scatter(40, 30000, 4)
	at, drift := targets()
	m := structure(t, variogram.FamilyExponential, 0.8, 9, 4000)
	sk, ok, uk := solver(t, plain(data), m, simple(t, 20)), solver(t, plain(data), m, krige.Ordinary{}), solver(t, data, m, universal(t, 1))
	for i := range at {
		a, err1 := sk.Predict(at[i])
		b, err2 := ok.Predict(at[i])
		c, err3 := uk.Predict(at[i], drift[i])
		if err := errors.Join(err1, err2, err3); err != nil {
			t.Fatal(err)
		}
		if a.Variance > b.Variance || b.Variance > c.Variance {
			t.Errorf("target %d: simple %g, ordinary %g, universal %g", i, a.Variance, b.Variance, c.Variance)
		}
	}
}

// Far from data: the generalised least-squares mean, and the sill and its variance.
func TestFarFromData(t *testing.T) {
	data := plain(scatter(40, 30000, 4))
	m := structure(t, variogram.FamilySpherical, 0.8, 9, 4000)
	trend, err := variogram.LogLikelihood(positions(data), values(data), nil, nil, m, variogram.REML)
	if err != nil {
		t.Fatal(err)
	}
	e, err := solver(t, data, m, krige.Ordinary{}).Predict(krige.XY{X: 1e7})
	if err != nil || !near(e.Mean, trend.Trend[0], 1e-10) || e.Variance <= m.Sill() || e.Variance > 1.2*m.Sill() {
		t.Errorf("%+v, want mean %g and a little over %g, %v", e, trend.Trend[0], m.Sill(), err)
	}
}

func positions(data []krige.Datum) []krige.XY {
	out := make([]krige.XY, len(data))
	for i, d := range data {
		out[i] = d.XY
	}
	return out
}

func values(data []krige.Datum) []float64 {
	out := make([]float64, len(data))
	for i, d := range data {
		out[i] = d.Value
	}
	return out
}
