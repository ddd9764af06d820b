package krige_test

import (
	"math"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
	"waterstrike/geo/outside"
)

// refTol is what every comparison with the reference allows: the reference was
// confirmed by a second solver to 3e-13, and the figure to keep is 1e-9.
const refTol = 1e-9

// table is a file of testdata/reference.
type table struct{ outside.Table }

func reference(t *testing.T, name string) table {
	t.Helper()
	return table{outside.ReadTable(t, outside.Reference(t, name))}
}

func (tab table) at(row int) krige.XY {
	return krige.XY{X: tab.Number(row, "x"), Y: tab.Number(row, "y")}
}

// meuse returns the 155 log zinc data with sqrt(dist) as drift.
func meuse(t *testing.T) []krige.Datum {
	t.Helper()
	tab := reference(t, "meuse/meuse.csv")
	out := make([]krige.Datum, len(tab.Rows))
	for i := range out {
		out[i] = krige.Datum{XY: tab.at(i), Value: tab.Number(i, "logzinc"), Drift: []float64{math.Sqrt(tab.Number(i, "dist"))}}
	}
	return out
}

// edit returns a copy of data after f has changed each.
func edit(data []krige.Datum, f func(i int, d *krige.Datum)) []krige.Datum {
	out := append([]krige.Datum(nil), data...)
	for i := range out {
		f(i, &out[i])
	}
	return out
}

func plain(data []krige.Datum) []krige.Datum {
	return edit(data, func(_ int, d *krige.Datum) { d.Drift = nil })
}

func withErrors(t *testing.T, data []krige.Datum) []krige.Datum {
	t.Helper()
	tab := reference(t, "meuse/measerr_variances.csv")
	return edit(data, func(i int, d *krige.Datum) { d.ErrVar = tab.Number(i, "errvar") })
}

func structure(tb testing.TB, family variogram.Family, micro, psill, a float64) variogram.Structure {
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

func spherical(tb testing.TB) variogram.Structure {
	tb.Helper()
	return structure(tb, variogram.FamilySpherical, 0.0507, 0.591, 897)
}

func exponential(tb testing.TB) variogram.Structure {
	tb.Helper()
	return structure(tb, variogram.FamilyExponential, 0.0507, 0.591, 300)
}

func sphericalDrift(tb testing.TB) variogram.Structure {
	tb.Helper()
	return structure(tb, variogram.FamilySpherical, 0.08, 0.15, 900)
}

func simple(tb testing.TB, mean float64) krige.Trend {
	tb.Helper()
	s, err := krige.NewSimple(mean)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func universal(tb testing.TB, drifts int) krige.Trend {
	tb.Helper()
	u, err := krige.NewUniversal(drifts)
	if err != nil {
		tb.Fatal(err)
	}
	return u
}

func local(tb testing.TB, data []krige.Datum, m variogram.Model, trend krige.Trend, hood krige.Neighbourhood) *krige.Predictor {
	tb.Helper()
	l, err := krige.NewLocal(data, m, trend, hood)
	if err != nil {
		tb.Fatal(err)
	}
	return l.Predictor()
}

func solver(tb testing.TB, data []krige.Datum, m variogram.Model, trend krige.Trend) *krige.Solver {
	tb.Helper()
	s, err := krige.NewSolver(m, trend)
	if err != nil {
		tb.Fatal(err)
	}
	if err := s.Fit(data); err != nil {
		tb.Fatal(err)
	}
	return s
}

// predict is what global and local prediction have in common.
type predict func(at krige.XY, drift ...float64) (krige.Estimate, error)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }
