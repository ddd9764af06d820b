package variogram_test

import (
	"errors"
	"math"
	"testing"

	"waterstrike/advisor/variogram"
)

// simulateBent draws a field that is isotropic in the plane reduced by a.
func simulateBent(tb testing.TB, n int, side float64, m variogram.Model, a variogram.Anisotropy, seed uint64) (points []variogram.XY, z []float64) {
	tb.Helper()
	reduced, z, _ := simulate(tb, n, side, m, nil, seed)
	sin, cos := math.Sincos(a.AzimuthDeg * math.Pi / 180)
	points = make([]variogram.XY, n)
	for i, p := range reduced { // the inverse of Reduce
		along, across := p.X, p.Y*a.Ratio
		points[i] = variogram.XY{X: along*sin + across*cos, Y: along*cos - across*sin}
	}
	return points, z
}

// apart is the angle between two azimuths of an axis.
func apart(a, b float64) float64 {
	d := math.Mod(math.Abs(a-b), 180)
	return min(d, 180-d)
}

func TestFitFindsAnisotropy(t *testing.T) {
	for _, truth := range []variogram.Anisotropy{{AzimuthDeg: 170, Ratio: 0.3}} {
		m := structureOf(t, variogram.FamilyExponential, 0.1, 4, 5000)
		points, z := simulateBent(t, 220, 34000, m, truth, 3)
		opts := variogram.DefaultOptions()
		opts.Anisotropic = true
		_, rep, err := variogram.Fit(points, z, nil, opts)
		if err != nil {
			t.Fatal(err)
		}
		reduced := make([]variogram.XY, len(points))
		for i, p := range points {
			reduced[i] = truth.Reduce(p)
		}
		at, err := variogram.LogLikelihood(reduced, z, nil, nil, m, variogram.REML)
		if err != nil || rep.LogLik < at.LogLik-1e-6 {
			t.Errorf("fit %.4f below truth %.4f, %v", rep.LogLik, at.LogLik, err)
		}
		// Two standard errors or so of one region of 220.
		if apart(rep.Anisotropy.AzimuthDeg, truth.AzimuthDeg) > 10 || math.Abs(math.Log(rep.Anisotropy.Ratio/truth.Ratio)) > 0.45 ||
			relative(rep.RangeParameterM, 5000) > 0.6 || rep.BendGain < 5 || rep.AtLeastRatio {
			t.Errorf("%+v, want %+v", rep, truth)
		}
	}
}

// Where there is none, anisotropy is kept in about one region of twenty, and the fit is
// then the isotropic one.
func TestFitKeepsIsotropy(t *testing.T) {
	const regions = 6
	kept := 0
	m := structureOf(t, variogram.FamilyExponential, 0.5, 4, 3000)
	for seed := range uint64(regions) {
		points, z, _ := simulate(t, 100, 23000, m, nil, seed)
		opts := variogram.DefaultOptions()
		_, plain, err1 := variogram.Fit(points, z, nil, opts)
		opts.Anisotropic = true
		_, rep, err2 := variogram.Fit(points, z, nil, opts)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if rep.BendGain < 0 {
			t.Errorf("seed %d: more freedom cost %g", seed, -rep.BendGain)
		}
		if rep.Anisotropy != (variogram.Anisotropy{}) {
			kept++
		} else if rep.LogLik != plain.LogLik || rep.RangeParameterM != plain.RangeParameterM {
			t.Errorf("seed %d: isotropic answers differ: %+v, %+v", seed, rep, plain)
		}
	}
	if kept > 2 { // of 6 at 5 %: more than 2 has a chance of 0.2 %
		t.Errorf("anisotropy kept in %d of %d isotropic regions", kept, regions)
	}
}

// Turning the map turns the azimuth and nothing else.
func TestFitAnisotropyTurns(t *testing.T) {
	truth := variogram.Anisotropy{AzimuthDeg: 20, Ratio: 0.4}
	points, z := simulateBent(t, 150, 30000, structureOf(t, variogram.FamilySpherical, 0.5, 4, 9000), truth, 8)
	opts := variogram.Options{Family: variogram.FamilySpherical, Anisotropic: true, Range: variogram.RangeBounds{MinM: 500, MaxM: 40000}}
	_, a, err1 := variogram.Fit(points, z, nil, opts)
	turned := make([]variogram.XY, len(points))
	sin, cos := math.Sincos(75 * math.Pi / 180) // clockwise
	for i, p := range points {
		turned[i] = variogram.XY{X: 5e5 + p.X*cos + p.Y*sin, Y: 9e6 - p.X*sin + p.Y*cos}
	}
	_, b, err2 := variogram.Fit(turned, z, nil, opts)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	// Two searches end within their tolerance of one top: some 1e-3 of a parameter.
	if math.Abs(a.LogLik-b.LogLik) > 1e-4 || apart(b.Anisotropy.AzimuthDeg, a.Anisotropy.AzimuthDeg+75) > 0.5 || relative(b.Anisotropy.Ratio, a.Anisotropy.Ratio) > 0.02 {
		t.Errorf("%+v turned by 75 degrees: %+v", a, b)
	}
}

func TestFitFindsSecondStructure(t *testing.T) {
	short, err1 := variogram.NewExponential(3, 300)
	long, err2 := variogram.NewSpherical(6, 15000)
	m, err3 := variogram.NewStructure(0.05, short, long)
	if err := errors.Join(err1, err2, err3); err != nil {
		t.Fatal(err)
	}
	points, z, _ := simulate(t, 300, 12000, m, nil, 2)
	opts := variogram.DefaultOptions()
	opts.Second = variogram.FamilySpherical
	fit, rep, err := variogram.Fit(points, z, nil, opts)
	if err != nil {
		t.Fatal(err)
	}
	at, err := variogram.LogLikelihood(points, z, nil, nil, m, variogram.REML)
	if err != nil || rep.LogLik < at.LogLik-1e-6 || rep.SecondGain < 5 {
		t.Errorf("fit %.4f, truth %.4f, %+v, %v", rep.LogLik, at.LogLik, rep, err)
	}
	sum := rep.Micro + rep.PartialSill + rep.Second.PartialSill
	if rep.Second.Family != variogram.FamilySpherical || relative(rep.Second.RangeParameterM, 15000) > 0.5 ||
		!(rep.RangeParameterM < 1000) || relative(fit.Sill(), sum) > 1e-12 {
		t.Errorf("%+v", rep)
	}
}

func TestFitKeepsOneStructure(t *testing.T) {
	const regions = 5
	kept := 0
	m := structureOf(t, variogram.FamilyExponential, 0.5, 4, 3000)
	for seed := range uint64(regions) {
		points, z, _ := simulate(t, 100, 23000, m, nil, seed)
		opts := variogram.DefaultOptions()
		opts.Second = variogram.FamilyExponential
		_, rep, err := variogram.Fit(points, z, nil, opts)
		if err != nil {
			t.Fatal(err)
		}
		if rep.SecondGain < 0 {
			t.Errorf("seed %d: more freedom cost %g", seed, -rep.SecondGain)
		}
		if rep.Second.PartialSill > 0 {
			kept++
			if rep.Second.RangeParameterM < rep.RangeParameterM {
				t.Errorf("seed %d: the longer one is not second: %+v", seed, rep)
			}
		}
	}
	if kept > 2 { // of 5 at 5 % or less: more than 2 has a chance of 0.1 %
		t.Errorf("a second structure kept in %d of %d regions without", kept, regions)
	}
}

func TestFitRefusesOptions(t *testing.T) {
	points, z, _ := meuse(t)
	var bad *variogram.ParameterError
	for _, opts := range []variogram.Options{{MaxPoints: -1}, {Neighbours: -3}, {Starts: -1}, {Second: "unknown"}, {Drift: [][]float64{z[:4]}}} {
		if _, _, err := variogram.Fit(points, z, nil, opts); !errors.As(err, &bad) {
			t.Errorf("%+v: %v", opts, err)
		}
	}
}
