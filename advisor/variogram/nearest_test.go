package variogram_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"waterstrike/advisor/variogram"
)

// With every earlier datum as a neighbour the product of conditional densities is the
// joint density, whatever the order.
func TestNearestLikelihoodExactWithAll(t *testing.T) {
	for name, m := range modelsOfPlace(t, 3000) {
		points, z, e := simulate(t, 70, 30000, structureOf(t, variogram.FamilyExponential, 0.5, 4, 3000), func(i int) float64 { return float64(i%3) * 0.4 }, 5)
		drift := [][]float64{make([]float64, len(points))}
		for i, p := range points {
			drift[0][i] = p.X
		}
		for _, method := range []variogram.Method{variogram.ML, variogram.REML} {
			want, err1 := variogram.LogLikelihood(points, z, e, drift, m, method)
			got, err2 := variogram.NearestLogLikelihood(points, z, e, drift, m, method, 500)
			const tol = 1e-10 // sums over 70 pivots of matrices conditioned below 1e4
			if err := errors.Join(err1, err2); err != nil || relative(got.LogLik, want.LogLik) > tol ||
				relative(got.Trend[0], want.Trend[0]) > 1e-9 || relative(got.Trend[1], want.Trend[1]) > 1e-8 {
				t.Errorf("%s, method %d: %+v, want %+v, %v", name, method, got, want, err)
			}
		}
	}
}

// modelsOfPlace is each family with a practical range near three times a.
func modelsOfPlace(t *testing.T, a float64) map[string]variogram.Model {
	t.Helper()
	out := map[string]variogram.Model{}
	for _, family := range variogram.Families() {
		unit, err := family.New(1, 1)
		if err != nil {
			t.Fatal(err)
		}
		out[string(family)] = structureOf(t, family, 0.5, 4, 3*a/unit.Range())
	}
	return out
}

// The error of the approximation, and how it shrinks with the neighbours. What a fit
// feels is the error of differences between models. The spherical model screens badly:
// data behind the nearest ones keep telling, and 60 neighbours do not mend it.
func TestNearestLikelihoodIsNearExact(t *testing.T) {
	for _, c := range []struct {
		neighbours       int
		whole, different float64 // log-likelihood, at most 2.5 times what was seen
	}{{10, 25, 5}, {30, 2.5, 2.5}, {60, 1.5, 1.2}} {
		for name, m := range modelsOfPlace(t, 3000) {
			points, z, _ := simulate(t, 500, 25000, m, nil, 11)
			diff := func(other variogram.Model) float64 {
				want, err1 := variogram.LogLikelihood(points, z, nil, nil, other, variogram.REML)
				got, err2 := variogram.NearestLogLikelihood(points, z, nil, nil, other, variogram.REML, c.neighbours)
				if err := errors.Join(err1, err2); err != nil {
					t.Fatal(err)
				}
				return got.LogLik - want.LogLik
			}
			base := diff(m)
			other := diff(modelsOfPlace(t, 3600)[name]) - base
			t.Logf("%d neighbours, %s: off by %.3f, difference of models by %.3f", c.neighbours, name, base, other)
			if name == string(variogram.FamilySpherical) {
				c.whole, c.different = 25, 25
			}
			if math.Abs(base) > c.whole || math.Abs(other) > c.different {
				t.Errorf("%d neighbours, %s: off by %.3f, difference of models by %.3f", c.neighbours, name, base, other)
			}
		}
	}
}

// Each datum's density is a true one, so that the best model is the same on average:
// the fit by nearest neighbours is the exact fit, for the spherical model roughly so.
func TestFitNearestIsExactFit(t *testing.T) {
	for _, family := range []variogram.Family{variogram.FamilySpherical, variogram.FamilyMatern32} {
		m := modelsOfPlace(t, 3000)[string(family)]
		points, z, _ := simulate(t, 610, 28000, m, nil, 0)
		exact := variogram.ForAllPoints()
		exact.Family = family
		near := exact
		near.ExactPoints = 100
		_, a, err1 := variogram.Fit(points, z, nil, exact)
		_, b, err2 := variogram.Fit(points, z, nil, near)
		if err := errors.Join(err1, err2); err != nil || a.Neighbours != 0 || b.Neighbours != 30 {
			t.Fatal(a, b, err)
		}
		for _, c := range [][3]float64{{1.03, 1, 1}, {0.97, 1, 1}, {1, 1.03, 1}, {1, 0.97, 1}, {1, 1, 1.03}, {1, 1, 0.97}} {
			beside := structureOf(t, family, c[0]*a.Micro, c[1]*a.PartialSill, c[2]*a.RangeParameterM)
			if at, err := variogram.LogLikelihood(points, z, nil, nil, beside, exact.Method); err != nil || at.LogLik > a.LogLik+5e-3 {
				t.Errorf("%s: %.5f beside the top of %.5f, %v", family, at.LogLik, a.LogLik, err)
			}
		}
		off := [3]float64{math.Log(b.RangeParameterM / a.RangeParameterM), math.Log(b.PartialSill / a.PartialSill), math.Log(b.Micro / a.Micro)}
		t.Logf("%s: log ratios of range, partial sill, micro-scale variance %.3f", family, off)
		tol := 0.03 // a tenth of what such a region itself leaves open
		if family == variogram.FamilySpherical {
			tol = 0.4 // as much: it has several tops, and screens badly
		}
		for _, v := range off {
			if math.Abs(v) > tol {
				t.Errorf("%s: nearest-neighbour fit is off by %.3f", family, off)
			}
		}
	}
}

func TestNearestLikelihoodErrors(t *testing.T) {
	points, z, _ := meuse(t)
	m := structureOf(t, variogram.FamilyExponential, 0.05, 0.6, 300)
	var bad *variogram.ParameterError
	if _, err := variogram.NearestLogLikelihood(points, z, nil, nil, m, variogram.ML, 0); !errors.As(err, &bad) {
		t.Error("no neighbours:", err)
	}
	if _, err := variogram.NearestLogLikelihood(points, z, nil, [][]float64{z[:5]}, m, variogram.ML, 5); !errors.As(err, &bad) {
		t.Error("short drift:", err)
	}
	if _, err := variogram.NearestLogLikelihood(points[:1], z[:1], nil, nil, m, variogram.ML, 5); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("one point:", err)
	}
	points[1] = points[0]
	var singular *variogram.ConditionError
	if _, err := variogram.NearestLogLikelihood(points, z, nil, nil, structureOf(t, variogram.FamilyExponential, 0, 0.6, 300), variogram.ML, 5); !errors.As(err, &singular) {
		t.Error("two exact data at one place:", err)
	}
}

// waves draws an exponential field with a = 3,000 m, variance 4 and micro-scale
// variance 0.5 at n points of the density of one per square kilometre, by random waves:
// the spectral density of exp(-h/a) in the plane is a Cauchy distribution of radius 1/a
// (Stein 1999, section 2.10), drawn as a normal over an independent normal. So many
// waves are a field good enough to time and to find roughly again, not to test by
// likelihood.
func waves(n int, seed uint64) (points []variogram.XY, z []float64) {
	const many = 400
	r := rand.New(rand.NewPCG(seed, 17))
	side := 1000 * math.Sqrt(float64(n))
	points, z = make([]variogram.XY, n), make([]float64, n)
	for i := range points {
		points[i] = variogram.XY{X: side * r.Float64(), Y: side * r.Float64()}
		z[i] = 20 + math.Sqrt(0.5)*r.NormFloat64()
	}
	for range many {
		w := 3000 * math.Abs(r.NormFloat64())
		kx, ky, phase := r.NormFloat64()/w, r.NormFloat64()/w, 2*math.Pi*r.Float64()
		for i, p := range points {
			z[i] += math.Sqrt(2*4.0/many) * math.Cos(kx*p.X+ky*p.Y+phase)
		}
	}
	return points, z
}

// Beyond ExactPoints the fit is by nearest neighbours. It is at least as likely as the
// truth, and no likelier than three fitted numbers make it in 999 of 1,000 regions:
// half the point of chi-squared.
func TestFitNearestFindsTruth(t *testing.T) {
	truth := structureOf(t, variogram.FamilyExponential, 0.5, 4, 3000)
	points, z, _ := simulate(t, 2050, 50000, truth, nil, 3)
	_, rep, err := variogram.Fit(points, z, nil, variogram.ForAllPoints())
	if err != nil || rep.Neighbours != 30 || rep.Thinned != 0 || !rep.RangeIdentified() {
		t.Fatal(rep, err)
	}
	at, err := variogram.NearestLogLikelihood(points, z, nil, nil, truth, variogram.REML, 30)
	if gain := rep.LogLik - at.LogLik; err != nil || gain < -1e-3 || gain > 16.27/2 {
		t.Errorf("gain of %g over the truth, %+v, %v", gain, rep, err)
	}
}

// More points than are used: a stated random part stands for all. The long run is a
// million points by a tenth of them, within ten minutes on two cores.
func TestFitBySubset(t *testing.T) {
	n, use, tol := 20000, 2200, 0.6
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		n, use, tol = 1000000, 100000, 0.15
	}
	points, z := waves(n, 3)
	opts := variogram.ForAllPoints()
	opts.MaxPoints = use
	start := time.Now()
	_, rep, err := variogram.Fit(points, z, nil, opts)
	took := time.Since(start)
	if err != nil || rep.Thinned != n-use || rep.Neighbours != 30 {
		t.Fatal(rep, err)
	}
	t.Logf("%d of %d points: %v, %+v", use, n, took.Round(time.Second), rep)
	if took > 10*time.Minute {
		t.Errorf("took %v", took)
	}
	if relative(rep.RangeParameterM, 3000) > tol || relative(rep.PartialSill, 4) > tol || rep.Micro > 0.5+4*tol {
		t.Errorf("%+v, want range parameter 3000, 4 and 0.5", rep)
	}
}

func BenchmarkNearestLikelihood(b *testing.B) {
	part, err := variogram.NewExponential(4, 3000)
	if err != nil {
		b.Fatal(err)
	}
	m, err := variogram.NewStructure(0.5, part)
	if err != nil {
		b.Fatal(err)
	}
	for _, n := range []int{1000, 10000, 100000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			points, z := waves(n, 3)
			for b.Loop() {
				if _, err := variogram.NearestLogLikelihood(points, z, nil, nil, m, variogram.REML, 30); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkFitAll is a whole fit without thinning; at 2,000 it is exact.
func BenchmarkFitAll(b *testing.B) {
	for _, n := range []int{1000, 2000, 10000, 100000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			points, z := waves(n, 3)
			for b.Loop() {
				if _, _, err := variogram.Fit(points, z, nil, variogram.ForAllPoints()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
