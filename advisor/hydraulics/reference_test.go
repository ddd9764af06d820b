package hydraulics_test

import (
	"errors"
	"math"
	"strconv"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo/outside"
)

// rows reads a table of testdata/reference/wells; its README names the origin.
func rows(t testing.TB, name string) []map[string]float64 {
	t.Helper()
	var all []map[string]float64
	for _, read := range outside.ReadTable(t, outside.Reference(t, "wells", name)).Rows {
		row := map[string]float64{}
		for column, text := range read {
			if v, err := strconv.ParseFloat(text, 64); err == nil {
				row[column] = v
			}
		}
		all = append(all, row)
	}
	return all
}

// near fails where got is not want to a relative tolerance.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %.12g, want %.12g to a relative %g", what, got, want, tol)
	}
}

func must[V any](t testing.TB) func(V, error) V {
	return func(v V, err error) V {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// exp1 of scipy 1.10.1, confirmed by mpmath 1.2.1 at 40 digits, u from 1e-15 to 9.
func TestWAgainstTable(t *testing.T) {
	const tol = 1e-12 // what is asked for; a float holds 1e-16
	for _, r := range rows(t, "theis_W.csv") {
		near(t, "W", must[float64](t)(hydraulics.W(r["u"])), r["W_mpmath"], tol)
	}
}

// Wenzel's table (1942), to the digits that handbooks print, from memory of the standard
// layout; all 29 agree with scipy.
func TestWAgainstWenzel(t *testing.T) {
	for _, r := range rows(t, "handbook_compare.csv") {
		got := must[float64](t)(hydraulics.W(r["u"]))
		const tol = 0.05 // the shortest entries have two digits: 0.0011
		near(t, "W", got, r["handbook"], tol)
		near(t, "W", got, r["scipy"], 1e-9) // printed with ten digits
	}
}

// scipy: Q 1000 m³/d, T 250 m²/d, S 2e-4 at four distances and seven times.
func TestTheisAgainstReference(t *testing.T) {
	for _, r := range rows(t, "theis_example.csv") {
		a := hydraulics.Aquifer{TM2D: r["T_m2d"], Storage: r["S"]}
		got := must[float64](t)(hydraulics.Theis(a, r["Q_m3d"], r["r_m"], r["t_d"]))
		const tol = 1e-10 // printed with twelve digits
		near(t, "s", got, r["s_theis_m"], tol)
	}
}

// The same cases where the straight line may be used; elsewhere it is refused.
func TestCooperJacobAgainstReference(t *testing.T) {
	for _, r := range rows(t, "theis_example.csv") {
		a := hydraulics.Aquifer{TM2D: r["T_m2d"], Storage: r["S"]}
		got, err := hydraulics.CooperJacob(a, r["Q_m3d"], r["r_m"], r["t_d"])
		if r["u"] > hydraulics.LooseU {
			var early *hydraulics.EarlyError
			if !errors.As(err, &early) {
				t.Errorf("u = %g: %v, want an EarlyError", r["u"], err)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		near(t, "s", got, r["s_cooperjacob_m"], 1e-10) // printed with twelve digits
	}
}

func cooperJacobReadings(t testing.TB) (readings []hydraulics.Reading, used []int) {
	for i, r := range rows(t, "cooperjacob_test.csv") {
		readings = append(readings, hydraulics.Reading{Days: r["t_min"] / 1440, DrawdownM: r["s_m_rounded"]})
		if r["used"] == 1 {
			used = append(used, i)
		}
	}
	return readings, used
}

// numpy.polyfit over the six readings of u < 0.01, drawdowns made by Theis with T 250, S
// 2e-4 and rounded to the millimetre.
func TestFitCooperJacobAgainstReference(t *testing.T) {
	readings, used := cooperJacobReadings(t)
	f := must[hydraulics.Fit](t)(hydraulics.FitCooperJacob(hydraulics.Pumping{DischargeM3D: 1000, DistanceM: 60}, readings))
	if len(f.Used) != len(used) || f.Used[0] != used[0] {
		t.Errorf("used %v, want %v", f.Used, used)
	}
	const tol = 1e-9 // printed with ten digits
	near(t, "T", f.T.Value, 250.8835246, tol)
	s, ok := f.Storage.Get()
	if !ok {
		t.Fatal("no storage")
	}
	near(t, "S", s.Value, 0.0001966797897, tol)
	ofTheGround(t, f.Signs)
	if !f.T.Holds(250) || !s.Holds(2e-4) {
		t.Errorf("ranges %+v, %+v do not hold the truth", f.T, s)
	}
}

// ofTheGround fails where a sign says more than that the readings are few or short.
func ofTheGround(t *testing.T, signs []hydraulics.Sign) {
	t.Helper()
	for _, s := range signs {
		if s != hydraulics.ShortTest && s != hydraulics.FewReadings {
			t.Errorf("sign %s in ground without any", s)
		}
	}
}

// scipy.optimize.least_squares over all 18.
func TestFitTheisAgainstReference(t *testing.T) {
	readings, _ := cooperJacobReadings(t)
	f := must[hydraulics.Fit](t)(hydraulics.FitTheis(1000, []hydraulics.Series{{DistanceM: 60, Readings: readings}}))
	const tol = 1e-7 // a section search ends at the root of the rounding
	near(t, "T", f.T.Value, 250.0172412, tol)
	near(t, "S", f.Storage.Or(hydraulics.Estimate{}).Value, 0.000199894562, tol)
	near(t, "rms", f.RMSM, math.Sqrt(1.97763e-06/18), 1e-5) // printed with six digits
}

// Hand arithmetic by numpy: Q 1500 m³/d, 2.31 m at 20 m, 0.87 m at 150 m; heights of 28.1
// and 29.6 m in the unconfined case.
func TestThiemAgainstReference(t *testing.T) {
	got := must[float64](t)(hydraulics.Thiem(1500, hydraulics.Place{DistanceM: 20, DrawdownM: 2.31}, hydraulics.Place{DistanceM: 150, DrawdownM: 0.87}))
	near(t, "T", got, 334.043516219, 1e-11) // printed with twelve digits
}

func TestDupuitAgainstReference(t *testing.T) {
	got := must[float64](t)(hydraulics.Dupuit(1500, 30, hydraulics.Place{DistanceM: 20, DrawdownM: 30 - 28.1}, hydraulics.Place{DistanceM: 150, DrawdownM: 30 - 29.6}))
	near(t, "K", got, 11.1154861549, 1e-11) // printed with twelve digits
}

// scipy: pumped half a day at 1000 m³/d, T 250, S 2e-4, r 60 m.
func TestRecoveryAgainstReference(t *testing.T) {
	for _, r := range rows(t, "recovery_example.csv") {
		got := must[float64](t)(hydraulics.Recovery(hydraulics.Aquifer{TM2D: 250, Storage: 2e-4}, 1000, 60, 0.5, r["t_since_stop_d"]))
		near(t, "residual drawdown", got, r["residual_s_m"], 1e-9) // printed with twelve digits, differences of two
	}
}

func TestFitRecoveryAgainstReference(t *testing.T) {
	var readings []hydraulics.Reading
	for _, r := range rows(t, "recovery_example.csv") {
		readings = append(readings, hydraulics.Reading{Days: r["t_since_stop_d"], DrawdownM: r["residual_s_m"]})
	}
	f := must[hydraulics.Fit](t)(hydraulics.FitRecovery(hydraulics.Stopped{
		Pumping: hydraulics.Pumping{DischargeM3D: 1000, DistanceM: 60}, PumpedDays: 0.5, Storage: 2e-4,
	}, readings))
	near(t, "T", f.T.Value, 250, 0.01) // the line itself errs by a quarter of a per cent of W at u = 0.01
	if len(f.Used) != 4 || f.Used[0] != 5 {
		t.Errorf("used %v, want the four after two hours, of u < 0.01", f.Used)
	}
	ofTheGround(t, f.Signs)
}

// scipy fixed point: Q/s 48 m²/d after 0.25 d in a 0.1 m well, S 1e-3.
func TestSpecificCapacityAgainstReference(t *testing.T) {
	e := must[hydraulics.Estimate](t)(hydraulics.SpecificCapacity(hydraulics.Single{
		DischargeM3D: 48, DrawdownM: 1, Days: 0.25, RadiusM: 0.1, Storage: 1e-3, ScreenM: 1, LayerM: 1,
	}))
	near(t, "T", e.Value, 57.2376151684, 1e-8) // the bisection ends at 1e-9
}
