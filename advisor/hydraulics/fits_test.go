package hydraulics_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
)

// theisReadings are drawdowns by Theis at times spaced evenly in the logarithm, with a
// Normal error of so many metres.
func theisReadings(t testing.TB, a hydraulics.Aquifer, q, r, fromD, toD float64, n int, errM float64, rng *rand.Rand) []hydraulics.Reading {
	all := make([]hydraulics.Reading, n)
	for i := range all {
		days := fromD * math.Pow(toD/fromD, float64(i)/float64(n-1))
		all[i] = hydraulics.Reading{Days: days, DrawdownM: must[float64](t)(hydraulics.Theis(a, q, r, days)) + errM*rng.NormFloat64()}
	}
	return all
}

// The 95 % range of T holds the true T in at least 95 of 100 tests with a tape's error,
// and a fit without error is exact.
func TestTheisRangeHoldsTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	held, heldS := 0, 0
	const tests = 60
	for range tests {
		readings := theisReadings(t, a, 25, 6, 1.0/1440, 0.4, 25, 0.02, rng)
		f := must[hydraulics.Fit](t)(hydraulics.FitTheis(25, []hydraulics.Series{{DistanceM: 6, Readings: readings}}))
		if f.T.Holds(a.TM2D) {
			held++
		}
		if f.Storage.Or(hydraulics.Estimate{}).Holds(a.Storage) {
			heldS++
		}
	}
	if held < tests*95/100 || heldS < tests*95/100 {
		t.Errorf("of %d ranges %d hold T, %d hold S", tests, held, heldS)
	}
	exact := theisReadings(t, a, 25, 6, 1.0/1440, 0.4, 25, 0, rng)
	f := must[hydraulics.Fit](t)(hydraulics.FitTheis(25, []hydraulics.Series{{DistanceM: 6, Readings: exact}}))
	near(t, "T", f.T.Value, a.TM2D, 1e-7) // the section search
}

// Where the readings tell T well the profile of the likelihood is a parabola, and its
// range that of the delta method.
func TestProfileNearDelta(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	readings := theisReadings(t, a, 25, 6, 1.0/1440, 0.4, 60, 0.05, rng)
	f := must[hydraulics.Fit](t)(hydraulics.FitTheis(25, []hydraulics.Series{{DistanceM: 6, Readings: readings}}))
	delta := 1.959964 * f.T.Decades
	near(t, "upper", math.Log10(f.T.Hi/f.T.Value), delta, 0.05) // third moments of ln T
	near(t, "lower", math.Log10(f.T.Value/f.T.Lo), delta, 0.05)
}

// Readings that end before u = 0.05 say so, and so do those that say nothing.
func TestEarlyReadingsAreHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	a := hydraulics.Aquifer{TM2D: 2, Storage: 0.05}
	p := hydraulics.Pumping{DischargeM3D: 20, DistanceM: 10}
	early := theisReadings(t, a, 20, 10, 0.02, 0.2, 12, 0, rng) // u from 31 to 3.1
	var tooEarly *hydraulics.EarlyError
	if _, err := hydraulics.FitCooperJacob(p, early); !errors.As(err, &tooEarly) {
		t.Errorf("u above 3: %v, want EarlyError", err)
	}
	loose := theisReadings(t, a, 20, 10, 12, 40, 12, 0, rng) // u from 0.05 to 0.016
	f := must[hydraulics.Fit](t)(hydraulics.FitCooperJacob(p, loose))
	if !f.Has(hydraulics.EarlyTime) {
		t.Errorf("u from 0.05 to 0.016: signs %v", f.Signs)
	}
	near(t, "T", f.T.Value, 2, 0.04) // W is 2 % low at u = 0.05
	if _, err := hydraulics.FitTheis(20, []hydraulics.Series{{DistanceM: 10, Readings: theisReadings(t, a, 20, 10, 50000, 50050, 5, 0.01, rng)}}); err == nil {
		t.Error("five readings of one moment have an answer")
	}
	for name, readings := range map[string][]hydraulics.Reading{
		"three":        {{Days: 1, DrawdownM: 1}, {Days: 2, DrawdownM: 2}, {Days: 3, DrawdownM: 3}},
		"out of order": {{Days: 1, DrawdownM: 1}, {Days: 3, DrawdownM: 2}, {Days: 2, DrawdownM: 3}, {Days: 4, DrawdownM: 3}},
		"rising":       {{Days: 1, DrawdownM: 4}, {Days: 2, DrawdownM: 3}, {Days: 3, DrawdownM: 2}, {Days: 4, DrawdownM: 1}},
		"not a number": {{Days: 1, DrawdownM: 4}, {Days: 2, DrawdownM: math.NaN()}, {Days: 3, DrawdownM: 2}, {Days: 4, DrawdownM: 1}},
	} {
		if _, err := hydraulics.FitCooperJacob(p, readings); err == nil {
			t.Errorf("%s: an answer", name)
		}
		if _, err := hydraulics.FitTheis(20, []hydraulics.Series{{DistanceM: 10, Readings: readings}}); err == nil && name != "rising" {
			t.Errorf("%s: an answer by Theis", name)
		}
	}
}

// A barrier is a second well as far beyond it that pumps too; a river one that gives.
func TestSignsOfBoundaries(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 100, Storage: 1e-4}
	p := hydraulics.Pumping{DischargeM3D: 200, DistanceM: 5}
	rng := rand.New(rand.NewPCG(11, 12))
	for _, c := range []struct {
		image float64
		want  hydraulics.Sign
	}{{1, hydraulics.Barrier}, {-1, hydraulics.Recharge}, {0, ""}} {
		readings := theisReadings(t, a, 200, 5, 0.01, 1, 30, 0.002, rng)
		for i := range readings {
			readings[i].DrawdownM += c.image * must[float64](t)(hydraulics.Theis(a, 200, 700, readings[i].Days))
		}
		f := must[hydraulics.Fit](t)(hydraulics.FitCooperJacob(p, readings))
		if c.want == "" && len(f.Signs) > 0 || c.want != "" && !f.Has(c.want) {
			t.Errorf("image %v: signs %v, want %q", c.image, f.Signs, c.want)
		}
		if !f.T.Holds(a.TM2D) {
			t.Errorf("image %v: T %+v of the part before the bend", c.image, f.T)
		}
	}
}

// In the pumped well the well's own water is left out, and S is not told.
func TestPumpedWellGivesNoStorage(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 4, Storage: 1e-3}
	w := hydraulics.Well{RadiusM: 0.075, OpenRadiusM: 0.055}
	read := func(fromD, toD float64) []hydraulics.Reading {
		var all []hydraulics.Reading
		for days := fromD; days <= toD; days *= 1.3 {
			all = append(all, hydraulics.Reading{Days: days, DrawdownM: 0.3 + must[float64](t)(hydraulics.StoredWell(a, w, 20, days))})
		}
		return all
	}
	p := hydraulics.Pumping{DischargeM3D: 20, DistanceM: w.RadiusM, OpenRadiusM: w.OpenRadiusM}
	long := must[hydraulics.Fit](t)(hydraulics.FitCooperJacob(p, read(0.001, 2)))
	if long.Storage.Known() || long.Has(hydraulics.WellStorage) || long.Has(hydraulics.EarlyTime) {
		t.Errorf("two days: %+v", long)
	}
	near(t, "T", long.T.Value, 4, 0.02) // a per cent of the well's own water at 250 r²/T
	short := must[hydraulics.Fit](t)(hydraulics.FitCooperJacob(p, read(0.001, 0.1)))
	if !short.Has(hydraulics.WellStorage) {
		t.Errorf("two hours: %+v", short)
	}
	if !short.T.Holds(4) {
		t.Errorf("two hours: %+v does not hold 4", short.T)
	}
	if _, err := hydraulics.FitCooperJacob(p, read(0.0005, 0.005)); err == nil {
		t.Error("seven minutes of the well's own water have an answer")
	}
}

// Recharge brings the water back before its time: the line meets 0 before t/t′ = 1.
func TestFitRecoveryDisplaced(t *testing.T) {
	s := hydraulics.Stopped{Pumping: hydraulics.Pumping{DischargeM3D: 50, DistanceM: 5}, PumpedDays: 0.25, Storage: 1e-3}
	var readings []hydraulics.Reading
	for days := 0.02; days < 0.3; days *= 1.3 {
		left := must[float64](t)(hydraulics.Recovery(hydraulics.Aquifer{TM2D: 30, Storage: 1e-3}, 50, 5, 0.25, days))
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: left - 0.05})
	}
	f := must[hydraulics.Fit](t)(hydraulics.FitRecovery(s, readings))
	if !f.Has(hydraulics.Displaced) {
		t.Errorf("signs %v", f.Signs)
	}
	near(t, "T", f.T.Value, 30, 0.03) // the slope is not touched; u is not quite 0
}

func TestFitDistance(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 80, Storage: 3e-4}
	var places []hydraulics.Place
	for _, r := range []float64{3, 8, 20, 35} {
		places = append(places, hydraulics.Place{DistanceM: r, DrawdownM: must[float64](t)(hydraulics.Theis(a, 150, r, 0.5))})
	}
	f := must[hydraulics.Fit](t)(hydraulics.FitDistance(150, 0.5, places))
	near(t, "T", f.T.Value, 80, 0.002)
	near(t, "S", f.Storage.Or(hydraulics.Estimate{}).Value, 3e-4, 0.01)
	var early *hydraulics.EarlyError
	places[3].DistanceM, places[3].DrawdownM = 200, must[float64](t)(hydraulics.Theis(a, 150, 200, 0.5))
	f = must[hydraulics.Fit](t)(hydraulics.FitDistance(150, 0.5, places))
	near(t, "T without the place at 200 m, whose u is 0.075", f.T.Value, 80, 0.002)
	if len(f.Used) != 3 || f.Has(hydraulics.EarlyTime) {
		t.Errorf("used %v, signs %v", f.Used, f.Signs)
	}
	if f := must[hydraulics.Fit](t)(hydraulics.FitDistance(150, 0.5, places[1:])); !f.Has(hydraulics.EarlyTime) || !f.T.Holds(80) {
		t.Errorf("three places, one of u 0.075: %+v", f)
	}
	f = must[hydraulics.Fit](t)(hydraulics.FitPlaces(150, 0.5, places[1:]))
	near(t, "T by the curve", f.T.Value, 80, 1e-5)
	near(t, "S by the curve", f.Storage.Or(hydraulics.Estimate{}).Value, 3e-4, 1e-5)
	places[3].DistanceM, places[3].DrawdownM = 400, must[float64](t)(hydraulics.Theis(a, 150, 400, 0.5))
	if _, err := hydraulics.FitDistance(150, 0.5, places[1:]); !errors.As(err, &early) {
		t.Errorf("u 0.3 at 400 m: %v", err)
	}
	if _, err := hydraulics.FitDistance(150, 0.5, places[:2]); !errors.Is(err, hydraulics.ErrTooFew) {
		t.Errorf("two places: %v", err)
	}
}

// T from the end of a test gives back the drawdown that it came from, with well loss and
// part of a layer screened.
func TestSpecificCapacityTurnsDrawdownRound(t *testing.T) {
	for _, tr := range []float64{0.5, 5, 50} {
		d := hydraulics.Duty{DischargeM3D: 20, Days: 0.3, Storage: 0.05, RadiusM: 0.075, Efficiency: 1}
		s := must[float64](t)(hydraulics.Drawdown(d, tr, 3, 8)) + 1e-4*20*20
		e := must[hydraulics.Estimate](t)(hydraulics.SpecificCapacity(hydraulics.Single{
			DischargeM3D: 20, DrawdownM: s, Days: 0.3, RadiusM: 0.075, Storage: 0.05, WellLoss: 1e-4, ScreenM: 3, LayerM: 8,
		}))
		near(t, "T", e.Value, tr, 1e-8) // the bisection
		for _, storage := range []float64{0.005, 0.5} {
			other := must[hydraulics.Estimate](t)(hydraulics.SpecificCapacity(hydraulics.Single{
				DischargeM3D: 20, DrawdownM: s, Days: 0.3, RadiusM: 0.075, Storage: storage, WellLoss: 1e-4, ScreenM: 3, LayerM: 8,
			}))
			if !e.Holds(other.Value) {
				t.Errorf("T %v with storage %v is outside %+v", other.Value, storage, e)
			}
		}
	}
}
