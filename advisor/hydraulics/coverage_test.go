package hydraulics_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// made is one test of a ground that is known, read with errors; it returns which of the
// 95 % ranges hold the truth.
type made func(rng *rand.Rand) (map[string]bool, error)

// likely errs as a hand does that works with a ground which is nearly, not quite, what a way
// takes it for: by the standard error of log10 that [hydraulics.Estimate] allows for the
// choice of method.
func likely(rng *rand.Rand, decades float64) float64 { return math.Pow(10, decades*rng.NormFloat64()) }

const methodDecades = 0.065 // as TestOudeKorendijkMethodsDiffer has it

// Every way finds the ground that a test was made of: of 200 tests of each, with a tape that
// errs, a ground that differs from what the way takes it for, and, for bailing, a storage
// that nobody knows, 95 % ranges hold the truth in 95 of 100 within what a binomial count
// allows in 99.9 of 100, and they are not so wide that they always do.
func TestRangesHoldTheTruth(t *testing.T) {
	const tests = 200
	for name, make := range map[string]made{
		"theis": madeTheis, "straight line": madeLine, "recovery": madeRecovery, "distance": madeDistance,
		"steady": madeSteady, "steps": madeSteps, "slug": madeSlug, "bailer": madeBailer, "rates": madeRates, "varied": madeVaried,
	} {
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(2026, 11))
			held, answered := map[string]int{}, 0
			for range tests {
				holds, err := make(rng)
				if err != nil {
					continue
				}
				answered++
				for what, ok := range holds {
					if ok {
						held[what]++
					} else {
						held[what] += 0
					}
				}
			}
			if answered < tests*9/10 {
				t.Fatalf("%d of %d tests have an answer", answered, tests)
			}
			n := float64(answered)
			least := int(0.95*n - 3.1*math.Sqrt(n*0.95*0.05))
			for what, got := range held {
				t.Logf("%s: %d of %d", what, got, answered)
				if got < least || got == answered {
					t.Errorf("%s is held %d times of %d, want %d at least, and not always", what, got, answered, least)
				}
			}
		})
	}
}

// logged are times evenly spaced in their logarithm.
func logged(fromD, toD float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = fromD * math.Pow(toD/fromD, float64(i)/float64(n-1))
	}
	return out
}

func madeTheis(rng *rand.Rand) (map[string]bool, error) {
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	as := hydraulics.Aquifer{TM2D: a.TM2D * likely(rng, methodDecades), Storage: a.Storage * likely(rng, methodDecades)}
	var readings []hydraulics.Reading
	for _, days := range logged(1.0/1440, 0.4, 14) {
		s, err := hydraulics.Theis(as, 25, 6, days)
		if err != nil {
			return nil, err
		}
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: s + 0.03*rng.NormFloat64()})
	}
	f, err := hydraulics.FitTheis(25, []hydraulics.Series{{DistanceM: 6, Readings: readings}})
	return map[string]bool{"T": f.T.Holds(a.TM2D), "S": f.Storage.Or(hydraulics.Estimate{}).Holds(a.Storage)}, err
}

func madeLine(rng *rand.Rand) (map[string]bool, error) {
	a := hydraulics.Aquifer{TM2D: 120, Storage: 3e-4}
	as := hydraulics.Aquifer{TM2D: a.TM2D * likely(rng, methodDecades), Storage: a.Storage}
	var readings []hydraulics.Reading
	for _, days := range logged(0.01, 1, 16) {
		s, err := hydraulics.Theis(as, 300, 10, days)
		if err != nil {
			return nil, err
		}
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: s + 0.03*rng.NormFloat64()})
	}
	f, err := hydraulics.FitCooperJacob(hydraulics.Pumping{DischargeM3D: 300, DistanceM: 10}, readings)
	return map[string]bool{"T": f.T.Holds(a.TM2D)}, err
}

func madeRecovery(rng *rand.Rand) (map[string]bool, error) {
	a := hydraulics.Aquifer{TM2D: 30, Storage: 1e-3}
	as := hydraulics.Aquifer{TM2D: a.TM2D * likely(rng, methodDecades), Storage: a.Storage}
	stopped := hydraulics.Stopped{Pumping: hydraulics.Pumping{DischargeM3D: 50, DistanceM: 5}, PumpedDays: 0.25, Storage: 1e-3}
	var readings []hydraulics.Reading
	for _, days := range logged(0.005, 0.3, 14) {
		s, err := hydraulics.Recovery(as, 50, 5, 0.25, days)
		if err != nil {
			return nil, err
		}
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: s + 0.015*rng.NormFloat64()})
	}
	f, err := hydraulics.FitRecovery(stopped, readings)
	return map[string]bool{"T": f.T.Holds(a.TM2D)}, err
}

func madePlaces(rng *rand.Rand, a hydraulics.Aquifer) (places []hydraulics.Place, err error) {
	a.TM2D *= likely(rng, methodDecades)
	for _, r := range []float64{2, 4, 8, 15, 25} {
		s, err := hydraulics.Theis(a, 150, r, 0.5)
		if err != nil {
			return nil, err
		}
		places = append(places, hydraulics.Place{DistanceM: r, DrawdownM: s + 0.05*rng.NormFloat64()})
	}
	return places, nil
}

func madeDistance(rng *rand.Rand) (map[string]bool, error) {
	a := hydraulics.Aquifer{TM2D: 80, Storage: 3e-4}
	places, err := madePlaces(rng, a)
	if err != nil {
		return nil, err
	}
	f, err := hydraulics.FitDistance(150, 0.5, places)
	return map[string]bool{"T": f.T.Holds(a.TM2D)}, err
}

func madeSteady(rng *rand.Rand) (map[string]bool, error) {
	a := hydraulics.Aquifer{TM2D: 80, Storage: 3e-4}
	places, err := madePlaces(rng, a)
	if err != nil {
		return nil, err
	}
	f, err := hydraulics.FitThiem(150, places)
	return map[string]bool{"T": f.T.Holds(a.TM2D)}, err
}

func madeSteps(rng *rand.Rand) (map[string]bool, error) {
	b, c := 0.08, 4e-4
	was := b * likely(rng, methodDecades)
	var steps []hydraulics.Step
	for _, q := range []float64{10, 20, 30, 40, 50} {
		steps = append(steps, hydraulics.Step{DischargeM3D: q, DrawdownM: q * (was + c*q + 0.004*rng.NormFloat64())})
	}
	f, err := hydraulics.FitSteps(steps)
	return map[string]bool{"B": f.B.Holds(b), "C": f.CLo <= c && c <= f.CHi}, err
}

// The rate at which a displacement dies carries the range of Hvorslev's K and of Bouwer and
// Rice's alike: both are that rate times a number of the well.
func madeSlug(rng *rand.Rand) (map[string]bool, error) {
	w := hydraulics.Well{RadiusM: 0.075, OpenRadiusM: 0.055}
	slugged := hydraulics.Slugged{Well: w, ScreenM: 3, BelowM: 8, ThickM: 12}
	const rate = 360.0
	was := rate * likely(rng, methodDecades)
	var readings []hydraulics.Reading
	for i := 1; i <= 18; i++ {
		days := float64(i) * 0.15 / rate
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: 0.8 * math.Exp(-was*days) * (1 + 0.08*rng.NormFloat64())})
	}
	f, err := hydraulics.FitSlug(0.8, readings)
	if err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for name, k := range map[string]func(float64) (float64, error){
		"Hvorslev":        func(r float64) (float64, error) { return hydraulics.Hvorslev(w, 3, r) },
		"Bouwer and Rice": func(r float64) (float64, error) { return hydraulics.BouwerRice(slugged, r) },
	} {
		truth, err1 := k(rate)
		lo, err2 := k(f.RatePerDay.Lo)
		hi, err3 := k(f.RatePerDay.Hi)
		if err1 != nil || err2 != nil || err3 != nil {
			return nil, hydraulics.ErrNoAnswer
		}
		out[name] = lo <= truth && truth <= hi
	}
	return out, nil
}

func madeBailer(rng *rand.Rand) (map[string]bool, error) {
	t := math.Pow(10, -1+2*rng.Float64()) // what the test is made for
	was := hydraulics.Aquifer{TM2D: t * likely(rng, 0.2), Storage: 1e-3 * likely(rng, 0.5)}
	r, err := hydraulics.Bail(was, bail150())
	if err != nil {
		return nil, err
	}
	e, err := hydraulics.FitBailer(bail150(), hydraulics.Timed{
		HalfMin: geo.Some(r.HalfMin * (1 + 0.05*rng.NormFloat64())), ThreeQMin: geo.Some(r.ThreeQMin * (1 + 0.05*rng.NormFloat64())),
	})
	return map[string]bool{"T": e.Holds(t)}, err
}

// changing is a pump that slowed, was opened again, and stopped.
var changing = []hydraulics.Rate{{FromDays: 0, DischargeM3D: 30}, {FromDays: 0.1, DischargeM3D: 18}, {FromDays: 0.2, DischargeM3D: 40}, {FromDays: 0.35, DischargeM3D: 0}}

func madeRates(rng *rand.Rand) (map[string]bool, error) {
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	as := hydraulics.Aquifer{TM2D: a.TM2D * likely(rng, methodDecades), Storage: a.Storage * likely(rng, methodDecades)}
	var readings []hydraulics.Reading
	for i := 1; i <= 12; i++ {
		days := float64(i) * 0.04
		s, err := hydraulics.TheisRates(as, changing, 6, days+1e-4)
		if err != nil {
			return nil, err
		}
		readings = append(readings, hydraulics.Reading{Days: days + 1e-4, DrawdownM: s + 0.05*rng.NormFloat64()})
	}
	f, err := hydraulics.FitRates(changing, []hydraulics.Series{{DistanceM: 6, Readings: readings}})
	return map[string]bool{"T": f.T.Holds(a.TM2D), "S": f.Storage.Or(hydraulics.Estimate{}).Holds(a.Storage)}, err
}

func madeVaried(rng *rand.Rand) (map[string]bool, error) {
	const c = 3e-3
	a := hydraulics.Aquifer{TM2D: 12, Storage: 1e-3}
	as := hydraulics.Aquifer{TM2D: a.TM2D * likely(rng, methodDecades), Storage: a.Storage}
	var readings []hydraulics.Reading
	for i := 1; i <= 40; i++ {
		days := float64(i)*0.012 + 0.003
		s, err := variedWell(as, c, days)
		if err != nil {
			return nil, err
		}
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: s + 0.05*rng.NormFloat64()})
	}
	v, err := hydraulics.FitVaried(hydraulics.Pumping{DistanceM: 0.075, OpenRadiusM: 0.02}, changing, readings)
	loss, _ := v.Losses.Get()
	return map[string]bool{"T": v.T.Holds(a.TM2D), "C": loss.CLo <= c && c <= loss.CHi}, err
}

// variedWell is the drawdown in a well of 150 mm that loses c Q².
func variedWell(a hydraulics.Aquifer, c, days float64) (float64, error) {
	s, err := hydraulics.TheisRates(a, changing, 0.075, days)
	q := 0.0
	for _, r := range changing {
		if r.FromDays < days {
			q = r.DischargeM3D
		}
	}
	return s + c*q*q, err
}

// A test at changing rates is read as one at a steady rate: without errors exactly; and a
// steady rate is one that changed to itself.
func TestFitRates(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	var series []hydraulics.Series
	for _, r := range []float64{6, 15} {
		one := hydraulics.Series{DistanceM: r}
		for i := 1; i <= 30; i++ {
			days := float64(i) * 0.017
			one.Readings = append(one.Readings, hydraulics.Reading{Days: days, DrawdownM: must[float64](t)(hydraulics.TheisRates(a, changing, r, days))})
		}
		series = append(series, one)
	}
	f := must[hydraulics.Fit](t)(hydraulics.FitRates(changing, series))
	near(t, "T", f.T.Value, 12, 1e-6)
	near(t, "S", f.Storage.Or(hydraulics.Estimate{}).Value, 2e-3, 1e-5)
	one := must[hydraulics.Fit](t)(hydraulics.FitTheis(788, []hydraulics.Series{at30()}))
	same := must[hydraulics.Fit](t)(hydraulics.FitRates([]hydraulics.Rate{{FromDays: 0, DischargeM3D: 788}, {FromDays: 0.1, DischargeM3D: 788}}, []hydraulics.Series{at30()}))
	near(t, "a rate that changed to itself", same.T.Value, one.T.Value, 1e-12)
}

// Ground, losses and the recovery after come out of one table of the pumped well.
func TestFitVaried(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 12, Storage: 1e-3}
	var readings []hydraulics.Reading
	for i := 1; i <= 60; i++ {
		days := float64(i)*0.008 + 0.003
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: must[float64](t)(variedWell(a, 3e-3, days))})
	}
	p := hydraulics.Pumping{DistanceM: 0.075, OpenRadiusM: 0.05}
	v := must[hydraulics.Varied](t)(hydraulics.FitVaried(p, changing, readings))
	near(t, "T", v.T.Value, 12, 1e-4)
	loss, ok := v.Losses.Get()
	if !ok {
		t.Fatal("no losses")
	}
	near(t, "C", loss.C, 3e-3, 1e-3)
	ground := must[float64](t)(hydraulics.Theis(a, 1, 0.075, 0.1))
	near(t, "B when the first rate ended", loss.B.Value, ground, 1e-4)
	near(t, "the ground's part then", v.Ground(0.1), 30*ground, 1e-4)
	near(t, "drawdown then", v.Drawdown(0.1), 30*ground+3e-3*900, 1e-4)
	alone := must[hydraulics.Varied](t)(hydraulics.FitVaried(p, changing[:1], readings[:12]))
	near(t, "T of one rate", alone.T.Value, 12, 1e-4)
	if alone.Losses.Known() {
		t.Error("one rate tells a loss")
	}
	if _, err := hydraulics.FitVaried(p, changing, readings[:4]); err == nil {
		t.Error("four readings have an answer")
	}
}

// The rise that is drawn is the one that was bailed, and poorer ground rises later.
func TestBailCurves(t *testing.T) {
	b, a := bail150(), hydraulics.Aquifer{TM2D: 1.1, Storage: 1e-3}
	r := must[hydraulics.Rise](t)(hydraulics.Bail(a, b))
	read := []hydraulics.Point{{X: 0, Y: r.MostM}, {X: r.HalfMin / 1440, Y: r.MostM / 2}, {X: r.ThreeQMin / 1440, Y: r.MostM / 4}}
	curves := must[[]hydraulics.Curve](t)(hydraulics.BailCurves(b, hydraulics.Estimate{Value: 1.1, Lo: 0.5, Hi: 2.4}, read))
	model, low := curves[2].Points, curves[3].Points
	near(t, "greatest", model[0].Y, r.MostM, 1e-9)
	near(t, "a quarter", model[len(model)-1].Y, r.MostM/4, 1e-4)
	if low[len(low)-1].Y <= model[len(model)-1].Y {
		t.Errorf("poorer ground has risen to %v", low[len(low)-1].Y)
	}
	if _, err := hydraulics.BailCurves(b, hydraulics.Estimate{Value: 1, Lo: 1, Hi: 1}, nil); err == nil {
		t.Error("nothing read is drawn")
	}
}

// Curves of a changing discharge run through what was read without error.
func TestRatesCurves(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	var readings, well []hydraulics.Reading
	for i := 1; i <= 30; i++ {
		days := float64(i) * 0.02
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: must[float64](t)(hydraulics.TheisRates(a, changing, 6, days))})
		well = append(well, hydraulics.Reading{Days: days, DrawdownM: must[float64](t)(variedWell(a, 3e-3, days))})
	}
	f := must[hydraulics.Fit](t)(hydraulics.FitRates(changing, []hydraulics.Series{{DistanceM: 6, Readings: readings}}))
	model := must[[]hydraulics.Curve](t)(hydraulics.RatesCurves(changing, 6, f, readings))[2].Points
	near(t, "last of a piezometer", model[len(model)-1].Y, readings[29].DrawdownM, 1e-5)
	v := must[hydraulics.Varied](t)(hydraulics.FitVaried(hydraulics.Pumping{DistanceM: 0.075, OpenRadiusM: 0.02}, changing, well))
	model = must[[]hydraulics.Curve](t)(v.Curves(well))[2].Points
	near(t, "last of the well", model[len(model)-1].Y, well[29].DrawdownM, 1e-4)
	if _, err := (hydraulics.Varied{}).Curves(well); err == nil {
		t.Error("a fit of nothing is drawn")
	}
}
