package krige_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// block is three by three places around a middle.
func block(middle krige.XY, step float64) []krige.XY {
	var out []krige.XY
	for j := -1.0; j <= 1; j++ {
		for i := -1.0; i <= 1; i++ {
			out = append(out, krige.XY{X: middle.X + i*step, Y: middle.Y + j*step})
		}
	}
	return out
}

// The same density of data and cells as in the speed comparison: 316 m between data,
// 200 m between cells. What is shared holds
// nearly all that a cell would choose, and more, so that variances hardly rise; where few
// neighbours tell a slope badly, more tell it better.
func TestTogetherIsNearPredict(t *testing.T) {
	data := scatter(4000, 20000, 9)
	for _, family := range variogram.Families() {
		for _, a := range []variogram.Anisotropy{{}, {AzimuthDeg: 20, Ratio: 0.7}} {
			hood := krige.Neighbourhood{Nearest: 32, Anisotropy: a}
			m := structure(t, family, 1, 16, 3000)
			mean, more, less := together(t, local(t, plain(data), m, krige.Ordinary{}, hood), 0)
			t.Logf("%s %v: means within %.3f standard deviations, variances +%.2f %% to -%.2f %%", family, a, mean, 100*more, 100*less)
			if mean > 0.35 || more > 0.01 || less > 0.03 {
				t.Errorf("%s %v: means within %.3f standard deviations, variances +%.2f %% to -%.2f %%", family, a, mean, 100*more, 100*less)
			}
			mean, more, less = together(t, local(t, data, m, universal(t, 1), hood), 1)
			t.Logf("%s %v with drift: means within %.3f standard deviations, variances +%.2f %% to -%.2f %%", family, a, mean, 100*more, 100*less)
			if mean > 1 || more > 0.01 || less > 0.4 {
				t.Errorf("%s %v with drift: means within %.3f standard deviations, variances +%.2f %% to -%.2f %%", family, a, mean, 100*more, 100*less)
			}
		}
	}
}

// together is how far blocks predicted together are from cells predicted each for
// itself: means in standard deviations, variances in parts, above and below.
func together(t *testing.T, p *krige.Predictor, drifts int) (mean, more, less float64) {
	t.Helper()
	r := rand.New(rand.NewPCG(6, 1))
	for range 60 {
		at := block(krige.XY{X: 20000 * r.Float64(), Y: 20000 * r.Float64()}, 200)
		drift := make([][]float64, len(at))
		for i := range drift {
			drift[i] = []float64{math.Sin(at[i].Y/5000) + 0.1*r.NormFloat64()}[:drifts]
		}
		got := make([]krige.Estimate, len(at))
		if err := p.PredictTogether(got, at, drift); err != nil {
			t.Fatal(err)
		}
		if n := len(p.Neighbours()); n <= 32 || n > 96 {
			t.Errorf("%d data shared", n)
		}
		for i := range at {
			want, err := p.Predict(at[i], drift[i]...)
			if err != nil {
				t.Fatal(err)
			}
			mean = max(mean, math.Abs(got[i].Mean-want.Mean)/math.Sqrt(want.Variance))
			more, less = max(more, got[i].Variance/want.Variance-1), max(less, 1-got[i].Variance/want.Variance)
		}
	}
	return mean, more, less
}

// Where sharing does not apply the answers are those of Predict.
func TestTogetherFallsBack(t *testing.T) {
	data := plain(scatter(300, 30000, 4))
	for name, c := range map[string]struct {
		hood krige.Neighbourhood
		step float64
	}{
		"far apart":      {krige.Neighbourhood{Nearest: 8}, 9000},
		"sectors":        {krige.Neighbourhood{Nearest: 8, Sectors: 4}, 10},
		"distance limit": {krige.Neighbourhood{Nearest: 8, DistanceM: 9000}, 10},
		"all data":       {krige.Neighbourhood{Nearest: 300}, 10},
		"too few data":   {krige.Neighbourhood{Nearest: 400}, 10},
	} {
		p := local(t, data, spherical(t), krige.Ordinary{}, c.hood)
		at := block(krige.XY{X: 15000, Y: 15000}, c.step)
		got := make([]krige.Estimate, len(at))
		if err := p.PredictTogether(got, at, nil); err != nil {
			t.Fatal(name, err)
		}
		for i := range at {
			want, err := p.Predict(at[i])
			if err != nil || !near(got[i].Mean, want.Mean, 1e-9) || !near(got[i].Variance, want.Variance, 1e-9) {
				t.Errorf("%s: %+v, want %+v, %v", name, got[i], want, err)
			}
		}
	}
	p := local(t, data, spherical(t), krige.Ordinary{}, krige.DefaultNeighbourhood())
	var bad *variogram.ParameterError
	if err := p.PredictTogether(make([]krige.Estimate, 1), make([]krige.XY, 2), nil); !errors.As(err, &bad) {
		t.Error("lengths differ:", err)
	}
	if err := p.PredictTogether(make([]krige.Estimate, 2), []krige.XY{{X: math.NaN()}, {}}, nil); !errors.Is(err, variogram.ErrNotFinite) {
		t.Error("NaN:", err)
	}
}
