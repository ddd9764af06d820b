package variogram_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/variogram"
)

func TestFitAlwaysUsable(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	line := func(n int, step float64) (p []variogram.XY, z []float64) {
		for i := range n {
			p = append(p, variogram.XY{X: float64(i) * step})
			z = append(z, r.NormFloat64())
		}
		return p, z
	}
	for k, c := range []struct {
		name string
		make func() ([]variogram.XY, []float64, []float64)
	}{
		{"ten points", func() ([]variogram.XY, []float64, []float64) { p, z := line(10, 100); return p, z, nil }},
		{"straight trend", func() ([]variogram.XY, []float64, []float64) {
			p, z := line(30, 100)
			for i := range z {
				z[i] = float64(i)
			}
			return p, z, nil
		}},
		{"two villages 1 m wide, 100 km apart", func() ([]variogram.XY, []float64, []float64) {
			p, z := line(20, 0.1)
			for i := 10; i < 20; i++ {
				p[i].X += 1e5
				z[i] += 50
			}
			return p, z, nil
		}},
		{"errors larger than the variation", func() ([]variogram.XY, []float64, []float64) {
			p, z := line(20, 100)
			e := make([]float64, 20)
			for i := range e {
				e[i] = 100
			}
			return p, z, e
		}},
		{"equal values with errors", func() ([]variogram.XY, []float64, []float64) {
			p, z := line(20, 100)
			e := make([]float64, 20)
			for i := range e {
				z[i], e[i] = 3, 1
			}
			return p, z, e
		}},
		{"each point twice", func() ([]variogram.XY, []float64, []float64) {
			p, z := line(20, 100)
			return append(p, p...), append(z, z...), nil
		}},
		{"one outlier", func() ([]variogram.XY, []float64, []float64) {
			p, z := line(40, 100)
			z[7] = 1e6
			return p, z, nil
		}},
		{"huge offset, tiny variation", func() ([]variogram.XY, []float64, []float64) {
			p, z := line(40, 100)
			for i := range z {
				p[i].X += 5e5
				p[i].Y += 9e6
				z[i] = 1e6 + 1e-3*z[i]
			}
			return p, z, nil
		}},
	} {
		for _, family := range variogram.Families() {
			p, z, e := c.make()
			checkUsable(t, c.name, p, z, e, variogram.Options{Family: family})
		}
		p, z, e := c.make()
		checkUsable(t, c.name+", all options", p, z, e, variogram.Options{Anisotropic: true, Second: variogram.FamilySpherical, Method: variogram.ML})
		checkUsable(t, c.name+", smooth", p, z, e, variogram.Options{Family: variogram.FamilyMatern52, Range: variogram.RangeBounds{MinM: 1e6, MaxM: 1e8}, Anisotropic: true})
		for len(p) < 610 { // more than the exact likelihood is asked to judge
			i := len(p) % 10
			p, z = append(p, variogram.XY{X: p[i].X + 7*float64(len(p)), Y: p[i].Y}), append(z, z[i])
			if e != nil {
				e = append(e, e[i])
			}
		}
		if k%2 == 0 {
			checkUsable(t, c.name+", many", p, z, e, variogram.Options{MaxPoints: 1000, ExactPoints: 1, Neighbours: 8})
		}
	}
}

func checkUsable(t *testing.T, name string, p []variogram.XY, z, e []float64, opts variogram.Options) {
	t.Helper()
	m, rep, err := variogram.Fit(p, z, e, opts)
	if err != nil {
		t.Errorf("%s, %s: %v", name, opts.Family, err)
		return
	}
	if !(m.Sill() > 0) || math.IsInf(m.Sill(), 0) || math.IsNaN(rep.LogLik) || math.IsInf(rep.LogLik, 0) || !(rep.MaxRangeLoss >= 0) {
		t.Errorf("%s, %s: %+v", name, opts.Family, rep)
	}
	if _, err := json.Marshal(rep); err != nil { // infinities and NaN cannot be written down
		t.Errorf("%s, %s: %v in %+v", name, opts.Family, err, rep)
	}
	near := make([]variogram.XY, 10)
	for i := range near {
		near[i] = rep.Anisotropy.Reduce(p[i])
	}
	if e != nil {
		e = e[:10]
	}
	if _, err := variogram.LogLikelihood(near, z[:10], e, nil, m, variogram.REML); err != nil {
		t.Errorf("%s, %s: model not usable: %v %+v", name, opts.Family, err, rep)
	}
}
