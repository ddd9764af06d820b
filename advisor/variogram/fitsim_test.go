package variogram_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/variogram"
)

// simulate draws a Gaussian field with mean 20 under m at n random points in a
// square, with independent reading errors of the variances e (nil for none).
func simulate(tb testing.TB, n int, side float64, m variogram.Model, e func(int) float64, seed uint64) (points []variogram.XY, z, errorVar []float64) {
	tb.Helper()
	r := rand.New(rand.NewPCG(seed, 7))
	points, z, errorVar = make([]variogram.XY, n), make([]float64, n), make([]float64, n)
	for i := range points {
		points[i] = variogram.XY{X: side * r.Float64(), Y: side * r.Float64()}
	}
	cov := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			cov.SetSym(i, j, m.Cov(points[i].DistanceTo(points[j])))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		tb.Fatal("simulation covariance is not positive definite")
	}
	var l mat.TriDense
	chol.LTo(&l)
	white := mat.NewVecDense(n, nil)
	for i := range n {
		white.SetVec(i, r.NormFloat64())
	}
	var field mat.VecDense
	field.MulVec(&l, white)
	for i := range n {
		if e != nil {
			errorVar[i] = e(i)
		}
		z[i] = 20 + field.AtVec(i) + math.Sqrt(errorVar[i])*r.NormFloat64()
	}
	return points, z, errorVar
}

func structureOf(tb testing.TB, family variogram.Family, micro, psill, a float64) variogram.Structure {
	tb.Helper()
	part, err := family.New(psill, a)
	if err != nil {
		tb.Fatal(err)
	}
	s, err := variogram.NewStructure(micro, part)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// The fit must be at least as likely as the truth, and, averaged over regions,
// split variation into field and reading error rightly.
func TestFitRecoversTruth(t *testing.T) {
	const regions = 6
	for _, family := range variogram.Families() {
		truth := structureOf(t, family, 0.5, 4, 3000)
		noise := func(i int) float64 { return float64(i%4) * 0.5 }
		micro, psill := 0.0, 0.0
		for seed := range uint64(regions) {
			points, z, e := simulate(t, 110, 26000, truth, noise, seed)
			opts := variogram.DefaultOptions()
			opts.Family = family
			_, rep, err := variogram.Fit(points, z, e, opts)
			if err != nil {
				t.Fatal(err)
			}
			at, err := variogram.LogLikelihood(points, z, e, nil, truth, variogram.REML)
			if err != nil || at.LogLik > rep.LogLik+1e-6 {
				t.Errorf("%s seed %d: fit %.4f below truth %.4f, %v", family, seed, rep.LogLik, at.LogLik, err)
			}
			micro += rep.Micro / regions
			psill += rep.PartialSill / regions
		}
		// Means over 6 regions of 110: standard errors near 0.25 and 0.6 (from the spread seen).
		if math.Abs(micro-0.5) > 0.75 || math.Abs(psill-4) > 1.8 {
			t.Errorf("%s: mean micro %.2f, partial sill %.2f, want near 0.5 and 4", family, micro, psill)
		}
		t.Logf("%s: mean micro %.2f, partial sill %.2f", family, micro, psill)
	}
}

func TestFitSaysNotIdentified(t *testing.T) {
	points, z, _ := meuse(t)
	// Constant mean and exponential: the likelihood rises to a range of 10^10 m.
	_, rep, err := variogram.Fit(points, z, nil, variogram.DefaultOptions())
	if err != nil || rep.RangeIdentified() || !rep.AtMaxRange {
		t.Errorf("unbounded likelihood: %+v, %v", rep, err)
	}
	r := rand.New(rand.NewPCG(5, 5))
	pure := 0
	for range 5 {
		for i := range z {
			z[i] = r.NormFloat64()
		}
		_, rep, err = variogram.Fit(points, z, nil, variogram.DefaultOptions())
		if err != nil {
			t.Fatal(err)
		}
		if !rep.RangeIdentified() || rep.Micro > 0.7*(rep.Micro+rep.PartialSill) {
			pure++
		}
	}
	if pure < 4 {
		t.Errorf("white noise was called structure in %d of 5 regions", 5-pure)
	}
}

func TestFitErrors(t *testing.T) {
	twelve := make([]variogram.XY, 12)
	z := make([]float64, 12)
	for i := range twelve {
		twelve[i].X, z[i] = float64(i), float64(i*i)
	}
	fit := func(p []variogram.XY, z, e []float64, o variogram.Options) error {
		_, _, err := variogram.Fit(p, z, e, o)
		return err
	}
	var bad *variogram.ParameterError
	if err := fit(twelve[:9], z[:9], nil, variogram.Options{}); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("nine points:", err)
	}
	if err := fit(append(twelve[:6:6], twelve[:6]...), z, nil, variogram.Options{}); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("six places twice:", err)
	}
	if err := fit(twelve, make([]float64, 12), nil, variogram.Options{}); !errors.Is(err, variogram.ErrNoVariation) {
		t.Error("equal values:", err)
	}
	if err := fit(twelve, z, nil, variogram.Options{Family: "unknown"}); !errors.As(err, &bad) {
		t.Error("unknown family:", err)
	}
	e := make([]float64, 12)
	e[3] = -1
	if err := fit(twelve, z, e, variogram.Options{}); !errors.As(err, &bad) {
		t.Error("negative error variance:", err)
	}
	z[4] = math.Inf(1)
	if err := fit(twelve, z, nil, variogram.Options{}); !errors.Is(err, variogram.ErrNotFinite) {
		t.Error("infinite value:", err)
	}
}

func TestFitThinsAndRepeats(t *testing.T) {
	truth := structureOf(t, variogram.FamilyExponential, 0.5, 4, 3000)
	points, z, _ := simulate(t, 300, 30000, truth, nil, 3)
	opts := variogram.DefaultOptions()
	opts.MaxPoints = 100
	_, a, err := variogram.Fit(points, z, nil, opts)
	if err != nil || a.Thinned != 200 || a.Given != 300 {
		t.Fatalf("%+v, %v", a, err)
	}
	_, b, err := variogram.Fit(points, z, nil, opts)
	if err != nil || a.LogLik != b.LogLik || a.RangeParameterM != b.RangeParameterM || a.Micro != b.Micro {
		t.Errorf("not repeatable: %+v, %+v, %v", a, b, err)
	}
}

// The figure: at most 2 s for 400 points on one core, with reading errors (the
// slower case: three parameters).
func BenchmarkFit400(b *testing.B) {
	noise := func(i int) float64 { return float64(i%4) * 0.5 }
	for _, family := range variogram.Families() {
		truth := structureOf(b, family, 0.5, 4, 3000)
		points, z, e := simulate(b, 400, 50000, truth, noise, 2)
		for name, e := range map[string][]float64{"exact": nil, "noisy": e} {
			b.Run(string(family)+"/"+name, func(b *testing.B) {
				evaluations := 0
				for b.Loop() {
					opts := variogram.DefaultOptions()
					opts.Family = family
					_, rep, err := variogram.Fit(points, z, e, opts)
					if err != nil {
						b.Fatal(err)
					}
					evaluations = rep.Evaluations
				}
				b.ReportMetric(float64(evaluations), "evaluations")
			})
		}
	}
}

// No parameters drawn at random within the bounds may be more likely than the fit.
func TestFitBeatsRandomSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 1))
	for i := range 24 {
		family := variogram.Families()[i%3]
		truth := structureOf(t, family, float64(i%2), 4, 500*float64(1+i%5))
		points, z, e := simulate(t, 30, 10000, truth, func(j int) float64 { return float64(j * i % 3) }, uint64(i))
		m, rep, err := variogram.Fit(points, z, e, variogram.Options{Family: family})
		if err != nil {
			t.Fatal(err)
		}
		factor := truth.Range() / (500 * float64(1+i%5))
		for range 60 {
			a := rep.Bounds.MinM / factor * math.Pow(rep.Bounds.MaxM/rep.Bounds.MinM, r.Float64())
			try := structureOf(t, family, m.Sill()*r.Float64(), m.Sill()*2*r.Float64(), a)
			got, err := variogram.LogLikelihood(points, z, e, nil, try, variogram.REML)
			const slack = 0.01 // of a log-likelihood; 2 make a difference worth naming
			if err == nil && got.LogLik > rep.LogLik+slack {
				t.Errorf("%s region %d: %.4f at range %g, fit %+v", family, i, got.LogLik, a, rep)
			}
		}
	}
}
