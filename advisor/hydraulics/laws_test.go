package hydraulics_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
)

// W falls and is convex, its slope is -e⁻ᵘ/u, and it is continuous where series and
// fraction meet.
func TestWLaws(t *testing.T) {
	at := func(u float64) float64 { return must[float64](t)(hydraulics.W(u)) }
	for u := 1e-6; u < 50; u *= 1.3 {
		h := u * 1e-5
		near(t, "slope of W", (at(u+h)-at(u-h))/(2*h), -math.Exp(-u)/u, 1e-6) // a central difference of two rounded values
		if at(u) <= at(u*1.01) {
			t.Errorf("W does not fall at %v", u)
		}
	}
	near(t, "W at 1 from both sides", at(math.Nextafter(1, 0)), at(1), 1e-14)
	if at(800) != 0 {
		t.Errorf("W(800) = %v, less than the least float", at(800))
	}
}

// laws are random aquifers, discharges, distances and times of every size met in practice.
func laws(n int, fn func(a hydraulics.Aquifer, q, r, days float64)) {
	rng := rand.New(rand.NewPCG(1, 2))
	decade := func(lo, hi float64) float64 { return math.Pow(10, lo+(hi-lo)*rng.Float64()) }
	for range n {
		fn(hydraulics.Aquifer{TM2D: decade(-1, 4), Storage: decade(-5, -0.5)}, decade(-1, 4), decade(-1, 3), decade(-3, 3))
	}
}

// Drawdown falls with distance, rises with time, is proportional to the discharge, and
// depends on r²/t alone.
func TestTheisLaws(t *testing.T) {
	laws(500, func(a hydraulics.Aquifer, q, r, days float64) {
		at := func(q, r, days float64) float64 { return must[float64](t)(hydraulics.Theis(a, q, r, days)) }
		s := at(q, r, days)
		if near := at(q, r/1.1, days); near < s {
			t.Errorf("%+v: %v m at %v m, %v m nearer", a, s, r, near)
		}
		if later := at(q, r, days*1.1); later < s {
			t.Errorf("%+v: %v m after %v d, %v m later", a, s, days, later)
		}
		near(t, "twice the discharge", at(2*q, r, days), 2*s, 1e-14)
		near(t, "twice as far, four times as long", at(q, 2*r, 4*days), s, 1e-12)
	})
}

// For small u the straight line: within 2.25 for 2.2459, 0.18 % of one in the logarithm,
// and the next term of the series, u.
func TestTheisTendsToCooperJacob(t *testing.T) {
	laws(2000, func(a hydraulics.Aquifer, q, r, days float64) {
		line, err := hydraulics.CooperJacob(a, q, r, days)
		if err != nil {
			return
		}
		u := r * r * a.Storage / (4 * a.TM2D * days)
		curve := must[float64](t)(hydraulics.Theis(a, q, r, days))
		scale := q / (4 * math.Pi * a.TM2D)
		if miss := (curve - line) / scale; miss < -0.0019 || miss > u {
			t.Errorf("u %g: the curve is %g of Q/4πT above the line", u, miss)
		}
	})
}

// Rates add up: a rate and its stop are two wells in time, a barrier is two in space.
func TestSuperposition(t *testing.T) {
	laws(200, func(a hydraulics.Aquifer, q, r, days float64) {
		s := must[float64](t)(hydraulics.Theis(a, q, r, days))
		one := must[float64](t)(hydraulics.TheisRates(a, []hydraulics.Rate{{FromDays: 0, DischargeM3D: q}}, r, days))
		near(t, "one rate", one, s, 1e-14)
		steps := []hydraulics.Rate{{FromDays: 0, DischargeM3D: q}, {FromDays: days / 3, DischargeM3D: 3 * q}, {FromDays: 2 * days, DischargeM3D: 9 * q}}
		two := must[float64](t)(hydraulics.TheisRates(a, steps, r, days))
		more := must[float64](t)(hydraulics.Theis(a, 2*q, r, days-days/3))
		near(t, "two rates, one not yet begun", two, s+more, 1e-12)
		stop := []hydraulics.Rate{{FromDays: 0, DischargeM3D: q}, {FromDays: days / 2, DischargeM3D: 0}}
		left := must[float64](t)(hydraulics.TheisRates(a, stop, r, days))
		recovery := must[float64](t)(hydraulics.Recovery(a, q, r, days/2, days/2))
		if math.Abs(left-recovery) > 1e-12*s {
			t.Errorf("after a stop %v, by recovery %v", left, recovery)
		}
	})
	for name, rates := range map[string][]hydraulics.Rate{
		"none": nil, "out of order": {{FromDays: 1, DischargeM3D: 1}, {FromDays: 0, DischargeM3D: 1}}, "below 0": {{DischargeM3D: -1}},
	} {
		if _, err := hydraulics.TheisRates(hydraulics.Aquifer{TM2D: 1, Storage: 1e-3}, rates, 1, 2); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// What is left of a drawdown and what has come back make up the drawdown of pumping on;
// after a long pumping the rise mirrors the fall.
func TestRecoverySymmetric(t *testing.T) {
	laws(200, func(a hydraulics.Aquifer, q, r, days float64) {
		left := must[float64](t)(hydraulics.Recovery(a, q, r, days, days))
		back := must[float64](t)(hydraulics.Theis(a, q, r, days))
		on := must[float64](t)(hydraulics.Theis(a, q, r, 2*days))
		if math.Abs(left+back-on) > 1e-12*on {
			t.Errorf("left %v + back %v, pumping on %v", left, back, on)
		}
	})
	a := hydraulics.Aquifer{TM2D: 10, Storage: 1e-3}
	stopped := must[float64](t)(hydraulics.Theis(a, 20, 5, 1000))
	for _, days := range []float64{0.01, 0.1, 1} {
		rise := stopped - must[float64](t)(hydraulics.Recovery(a, 20, 5, 1000, days))
		near(t, "rise", rise, must[float64](t)(hydraulics.Theis(a, 20, 5, days)), 0.01) // pumping on adds 1/1000 of a cycle
	}
}

func TestSteadyDropTurnsThiemRound(t *testing.T) {
	laws(100, func(a hydraulics.Aquifer, q, r, _ float64) {
		drop := must[float64](t)(hydraulics.SteadyDrop(q, a.TM2D, r, 7*r))
		got := must[float64](t)(hydraulics.Thiem(q, hydraulics.Place{DistanceM: r, DrawdownM: 1 + drop}, hydraulics.Place{DistanceM: 7 * r, DrawdownM: 1}))
		near(t, "T", got, a.TM2D, 1e-9*max(1, 1/drop)) // the 1 m rounds the difference
	})
}

// Dupuit's K is Thiem's T by Jacob's drawdowns over the thickness, exactly.
func TestDupuitIsThiemWithJacob(t *testing.T) {
	const thick = 12.0
	a, b := hydraulics.Place{DistanceM: 2, DrawdownM: 5}, hydraulics.Place{DistanceM: 40, DrawdownM: 1.5}
	k := must[float64](t)(hydraulics.Dupuit(90, thick, a, b))
	a.DrawdownM = must[float64](t)(hydraulics.JacobCorrected(a.DrawdownM, thick))
	b.DrawdownM = must[float64](t)(hydraulics.JacobCorrected(b.DrawdownM, thick))
	near(t, "T", must[float64](t)(hydraulics.Thiem(90, a, b)), k*thick, 1e-12)
}

func TestJacobCorrection(t *testing.T) {
	near(t, "2 m of 10", must[float64](t)(hydraulics.JacobCorrected(2, 10)), 1.8, 1e-15)
	for s := 0.0; s <= 10; s += 0.5 {
		there := must[float64](t)(hydraulics.JacobCorrected(s, 10))
		back := must[float64](t)(hydraulics.WaterTableDrawdown(there, 10))
		if math.Abs(back-s) > 1e-7 { // the root is steep near dry
			t.Errorf("%v m comes back as %v", s, back)
		}
	}
	if _, err := hydraulics.WaterTableDrawdown(5.1, 10); !errors.Is(err, hydraulics.ErrDry) {
		t.Errorf("more than half the thickness: %v, want ErrDry", err)
	}
	if _, err := hydraulics.JacobCorrected(11, 10); !errors.Is(err, hydraulics.ErrDomain) {
		t.Errorf("deeper than the ground: %v", err)
	}
}

// Under cover a metre is a metre; without cover it is Jacob's; in between both.
func TestUsableDrawdown(t *testing.T) {
	for _, c := range []struct {
		name             string
		cover, length, h float64
		want             float64
	}{
		{"down to the top of the layer", 5, 3, 3, 5},
		{"above it", 5, 3, 4, 4},
		{"a metre left of three, from the water table", 0, 3, 1, 8.0 / 6},
		{"the same under 5 m", 5, 3, 1, 5 + 8.0/6},
		{"empty", 0, 4, 0, 2},
	} {
		near(t, c.name, must[float64](t)(hydraulics.Usable(c.cover, c.length, c.h)), c.want, 1e-14)
	}
	for h := 0.0; h <= 6; h += 0.25 {
		jacob := must[float64](t)(hydraulics.JacobCorrected(6-h, 6))
		if got := must[float64](t)(hydraulics.Usable(0, 6, h)); math.Abs(got-jacob) > 1e-14 {
			t.Errorf("%v m left: %v, by Jacob %v", h, got, jacob)
		}
	}
	if _, err := hydraulics.Usable(0, 3, 4); !errors.Is(err, hydraulics.ErrDomain) {
		t.Errorf("more water than at rest: %v", err)
	}
}

// No function gives a number that is none without an error, whatever it is asked.
func TestNothingIsNaN(t *testing.T) {
	odd := []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e-308, 1e308, 1e-9, 1e9, 1, 0.3}
	rng := rand.New(rand.NewPCG(3, 4))
	pick := func() float64 { return odd[rng.IntN(len(odd))] }
	check := func(name string, v float64, err error) {
		t.Helper()
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%s gives %v without an error", name, v)
		}
	}
	for range 20000 {
		a := hydraulics.Aquifer{TM2D: pick(), Storage: pick()}
		w := hydraulics.Well{RadiusM: pick(), OpenRadiusM: pick()}
		x, y := hydraulics.Place{DistanceM: pick(), DrawdownM: pick()}, hydraulics.Place{DistanceM: pick(), DrawdownM: pick()}
		for name, f := range map[string]func() (float64, error){
			"W":     func() (float64, error) { return hydraulics.W(pick()) },
			"Theis": func() (float64, error) { return hydraulics.Theis(a, pick(), pick(), pick()) },
			"TheisRates": func() (float64, error) {
				return hydraulics.TheisRates(a, []hydraulics.Rate{{pick(), pick()}, {pick(), pick()}}, pick(), pick())
			},
			"Recovery":    func() (float64, error) { return hydraulics.Recovery(a, pick(), pick(), pick(), pick()) },
			"CooperJacob": func() (float64, error) { return hydraulics.CooperJacob(a, pick(), pick(), pick()) },
			"Thiem":       func() (float64, error) { return hydraulics.Thiem(pick(), x, y) },
			"SteadyDrop":  func() (float64, error) { return hydraulics.SteadyDrop(pick(), pick(), pick(), pick()) },
			"Dupuit":      func() (float64, error) { return hydraulics.Dupuit(pick(), pick(), x, y) },
			"Jacob":       func() (float64, error) { return hydraulics.JacobCorrected(pick(), pick()) },
			"WaterTable":  func() (float64, error) { return hydraulics.WaterTableDrawdown(pick(), pick()) },
			"Usable":      func() (float64, error) { return hydraulics.Usable(pick(), pick(), pick()) },
			"StoredWell":  func() (float64, error) { return hydraulics.StoredWell(a, w, pick(), pick()) },
			"Slug":        func() (float64, error) { return hydraulics.Slug(a, w, pick()) },
			"StorageEnds": func() (float64, error) { return hydraulics.StorageEnds(pick(), pick()) },
			"Hvorslev":    func() (float64, error) { return hydraulics.Hvorslev(w, pick(), pick()) },
			"BouwerRice": func() (float64, error) {
				return hydraulics.BouwerRice(hydraulics.Slugged{Well: w, ScreenM: pick(), BelowM: pick(), ThickM: pick()}, pick())
			},
			"PackRadius": func() (float64, error) { return hydraulics.PackRadius(pick(), pick(), pick()) },
			"Logan":      func() (float64, error) { e, err := hydraulics.Logan(pick(), pick()); return e.Hi, err },
			"MatchPoint": func() (float64, error) {
				m, err := hydraulics.MatchPoint(hydraulics.Match{W: pick(), U: pick(), DrawdownM: pick(), Days: pick()}, pick(), pick())
				return m.Storage, err
			},
			"SpecificCapacity": func() (float64, error) {
				e, err := hydraulics.SpecificCapacity(hydraulics.Single{
					DischargeM3D: pick(), DrawdownM: pick(), Days: pick(), RadiusM: pick(), Storage: pick(), WellLoss: pick(), ScreenM: pick(), LayerM: pick(),
				})
				return e.Hi, err
			},
			"Drawdown": func() (float64, error) {
				return hydraulics.Drawdown(hydraulics.Duty{DischargeM3D: pick(), Days: pick(), Storage: pick(), RadiusM: pick(), Efficiency: pick()}, pick(), pick(), pick())
			},
			"NeededT":        func() (float64, error) { return hydraulics.NeededT(hydraulics.HandPump(150), pick()) },
			"BucketsPerHour": func() (float64, error) { return hydraulics.BucketsPerHour(pick(), pick()) },
			"BucketCount":    func() (float64, error) { d, err := hydraulics.BucketCount(pick(), pick(), pick()); return d.LPS, err },
			"BucketFills": func() (float64, error) {
				d, err := hydraulics.BucketFills(pick(), []float64{pick(), pick()})
				return d.Err, err
			},
		} {
			v, err := f()
			check(name, v, err)
		}
	}
}
