package welldesign_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// usual are classes as often as wells meet them, the rare ones with them.
var usual = []soil.Class{
	soil.Sand, soil.Sand, soil.Sand, soil.Gravel, soil.Clay, soil.Clay, soil.Clay, soil.Silt, soil.Topsoil,
	soil.WeatheredRock, soil.Unknown, soil.Hardpan, soil.FracturedRock, soil.Rock,
}

// anySite draws a column of up to 12 layers with its levels.
func anySite(t *rapid.T) welldesign.Site {
	var s welldesign.Site
	top := 0.0
	for range rapid.IntRange(1, 12).Draw(t, "layers") {
		base := top + float64(rapid.IntRange(1, 60).Draw(t, "tenths"))/10
		s.Layers = append(s.Layers, welldesign.Layer{
			TopM: top, BaseM: base,
			Class:  rapid.SampledFrom(usual).Draw(t, "class"),
			Grade:  soil.Grade(rapid.IntRange(0, 3).Draw(t, "grade")),
			Clayey: rapid.Bool().Draw(t, "clayey"),
		})
		top = base
	}
	low := float64(rapid.IntRange(-20, 160).Draw(t, "low"))/10 + rapid.Float64Range(0, 0.1).Draw(t, "more")
	s.Water = water(low-rapid.Float64Range(0, 5).Draw(t, "season"), low, low+rapid.Float64Range(0, 3).Draw(t, "drought"))
	return s
}

var methods = []geo.Method{"auger", "percussion", "sludging", "rotary-sludging", "jetting"}

// Whatever the ground, a well that is designed is safe and can be built; what is not is
// told why.
func TestDesignLaws(t *testing.T) {
	kits := map[geo.Method]welldesign.Kit{}
	for _, code := range methods {
		kits[code] = kit(t, code)
	}
	fits, tried := 0, 0
	defer func() {
		t.Logf("%d of %d draws have a design", fits, tried)
		if fits*30 < tried {
			t.Error("the draws hardly try the designs")
		}
	}()
	rapid.Check(t, func(t *rapid.T) {
		tried++
		k := kits[rapid.SampledFrom(methods).Draw(t, "method")]
		r := *k.Rules
		if rapid.Bool().Draw(t, "pack within layer") {
			r.Pack.Top, _ = r.Pack.Top.Choose("within-layer")
		}
		r.Yield.Wanted.Value = rapid.Float64Range(0.02, 0.5).Draw(t, "wanted")
		k.Rules = &r
		s := anySite(t)
		w, err := welldesign.Design(s, k)
		if err != nil {
			t.Fatal(err)
		}
		if w.Verdict != welldesign.Fits {
			unfit(t, w, k)
			return
		}
		fits++
		inside(t, s, w, k)
		sealed(t, s, w, k)
		carried(t, w, k)
	})
}

// unfit: a reason is told, and nothing is built or carried.
func unfit(t *rapid.T, w welldesign.Well, k welldesign.Kit) {
	if len(w.Why) == 0 {
		t.Fatalf("%s without a reason", w.Verdict)
	}
	if len(w.Fills) > 0 || len(w.Pipes) > 0 || len(welldesign.Quantities(w, k, 0.5)) > 0 {
		t.Fatalf("%s, and yet %+v", w.Verdict, w)
	}
}

// inside: the screen stands below the design low, inside the hole, opposite ground that
// gives water; the hole is no deeper than the method gets.
func inside(t *rapid.T, s welldesign.Site, w welldesign.Well, k welldesign.Kit) {
	const tenth = 0.1 + 1e-6
	top, base := w.ScreenM[0], w.ScreenM[1]
	if top < s.Water.DesignLowM-1e-6 {
		t.Fatalf("screen from %v, design low %v", top, s.Water.DesignLowM)
	}
	if !(top < base && base < w.BottomM && w.BottomM <= w.ReachM+1e-6 && w.BottomM <= k.Method.MaxDepthM) {
		t.Fatalf("screen %v, bottom %v, reach %v", w.ScreenM, w.BottomM, w.ReachM)
	}
	if base-top < k.Rules.Screen.Least.Value-1e-6 || base-top > k.Rules.Screen.Longest.Value+1e-6 {
		t.Fatalf("screen of %v m", base-top)
	}
	for _, l := range s.Layers {
		shared := min(l.BaseM, base) - max(l.TopM, top)
		if !welldesign.Gives(l.Class) && shared > tenth {
			t.Fatalf("screen %v beside %v m of %s", w.ScreenM, shared, l.Class)
		}
		stopped := k.Method.Ground[l.Class].Pace == "stop" && l.TopM < w.BottomM-tenth
		if stopped {
			t.Fatalf("the hole to %v passes %s from %v", w.BottomM, l.Class, l.TopM)
		}
	}
	if !(w.PumpingM >= s.Water.DesignLowM && w.PumpingM <= base-k.Rules.Yield.Cover.Value+1e-6) {
		t.Fatalf("pumping level %v, screen %v", w.PumpingM, w.ScreenM)
	}
	if w.IntakeM < w.PumpingM+k.Rules.Yield.Cover.Value-1e-6 || w.IntakeM > w.BottomM {
		t.Fatalf("intake %v, pumping level %v, bottom %v", w.IntakeM, w.PumpingM, w.BottomM)
	}
	if w.Chance < 0.1 || w.Chance > 1 || len(w.Pumps) == 0 {
		t.Fatalf("chance %v, pumps %v", w.Chance, w.Pumps)
	}
}

// sealed: cement for the rule's length, clay under it, pack over the screen, no gap, and no
// pack beside another body of water.
func sealed(t *rapid.T, s welldesign.Site, w welldesign.Well, k welldesign.Kit) {
	r := k.Rules
	_, cement, _ := fill(w, geo.Grout)
	if cement < r.Seal.Least.Value-1e-6 {
		t.Fatalf("cement to %v", cement)
	}
	if w.Casing.Natural {
		if w.WidenM < r.Seal.Least.Value+r.Seal.Clay.Value-1e-6 {
			t.Fatalf("widened to %v", w.WidenM)
		}
		return
	}
	last := 0.0
	for _, f := range w.Fills {
		if math.Abs(f.TopM-last) > 1e-6 || f.BaseM <= f.TopM {
			t.Fatalf("fills %+v", w.Fills)
		}
		last = f.BaseM
	}
	top, base, _ := fill(w, geo.Pack)
	if math.Abs(last-w.BottomM) > 1e-6 || math.Abs(base-w.BottomM) > 1e-6 {
		t.Fatalf("fills end at %v, bottom %v", last, w.BottomM)
	}
	if over := w.ScreenM[0] - top; over < r.Pack.Top.Value().LeastM-1e-6 || over > r.Pack.Top.Value().BestM+0.1 {
		t.Fatalf("pack reaches %v m over the screen", over)
	}
	under := w.Fills[len(w.Fills)-2]
	if under.Kind != geo.ClaySeal || under.BaseM-under.TopM < r.Seal.Clay.Value-1e-6 {
		t.Fatalf("over the pack lies %+v", under)
	}
	// Within the pack, between any two layers that give water, lies less tight ground than
	// keeps two waters apart (a tenth for depths read to the tenth).
	tight, water := 0.0, false
	for _, l := range s.Layers {
		shared := min(l.BaseM, base) - max(l.TopM, top)
		switch {
		case shared <= 0.1+1e-6:
		case !welldesign.Gives(l.Class):
			tight += shared
		default:
			if water && tight > r.Seal.Separating.Value+0.1 {
				t.Fatalf("pack %v to %v joins waters across %v m: %+v", top, base, tight, s.Layers)
			}
			water, tight = true, 0
		}
	}
}

// carried: nothing negative, nothing without a unit, more for a slower or thirstier hole.
func carried(t *rapid.T, w welldesign.Well, k welldesign.Kit) {
	for item, amount := range welldesign.Quantities(w, k, rapid.Float64Range(0, 1).Draw(t, "share")) {
		if !(amount >= 0) || math.IsInf(amount, 0) || item.Unit() == "" {
			t.Fatalf("%s: %v %s", item, amount, item.Unit())
		}
	}
	fast, slow := welldesign.Hours(w, k, -1), welldesign.Hours(w, k, 1)
	if !(fast.DrillH > 0 && slow.DrillH > fast.DrillH && slow.CrewH > fast.CrewH) {
		t.Fatalf("fast %+v, slow %+v", fast, slow)
	}
	for _, s := range welldesign.Timetable(fast, k.Rules) {
		if s.ToH < s.FromH {
			t.Fatalf("%+v", s)
		}
	}
}

// The forecast: what is enough for four fifths is no less than what is enough for half, and
// the shares add up.
func TestForecastLaws(t *testing.T) {
	k := kit(t, "auger")
	p := welldesign.Prices{Currency: "USD", PersonDay: geo.Some(5.0), Items: map[string]float64{"casing": 12}}
	k.Prices = &p
	rapid.Check(t, func(t *rapid.T) {
		var columns []welldesign.Possible
		for range rapid.IntRange(1, 6).Draw(t, "columns") {
			columns = append(columns, welldesign.Possible{Site: anySite(t), Weight: rapid.Float64Range(0, 3).Draw(t, "weight")})
		}
		columns[0].Weight += 0.1
		f, wells, err := welldesign.Foresee(columns, k)
		if err != nil {
			t.Fatal(err)
		}
		sum := f.Fits
		for _, w := range f.Why {
			sum += w.Share
		}
		if math.Abs(sum-1) > 1e-9 || f.Unsafe > 1-f.Fits+1e-9 || len(wells) != len(columns) {
			t.Fatalf("shares add up to %v: %+v", sum, f)
		}
		for _, e := range []welldesign.Enough{f.BottomM, f.ScreenM, f.DrillH, f.CrewH, f.DaysOut} {
			if e.P80 < e.P50 || e.P50 < 0 {
				t.Fatalf("%+v", f)
			}
		}
		for _, l := range f.Loads {
			if l.P80 < l.P50 || l.P50 < 0 || l.Carry < l.P80-1e-6 || l.Unit == "" {
				t.Fatalf("%+v", l)
			}
		}
		i, known := f.Well.Get()
		if known != (f.Fits > 0) || known && wells[i].Verdict != welldesign.Fits {
			t.Fatalf("well %v of %+v", i, f)
		}
		if money, known := f.Money.Get(); known && (money.P80 < money.P50 || money.P50 <= 0 || len(money.Missing) == 0) {
			t.Fatalf("%+v", money)
		}
	})
}

// Protection: more dry ground is never worse, and travel is never negative.
func TestProtectLaws(t *testing.T) {
	k := kit(t, "percussion")
	worse := map[welldesign.Risk]int{welldesign.VeryLow: 0, welldesign.Low: 1, welldesign.Significant: 2}
	rapid.Check(t, func(t *rapid.T) {
		s := anySite(t)
		w, err := welldesign.Design(s, k)
		if err != nil || w.Verdict != welldesign.Fits {
			return
		}
		pit := rapid.Float64Range(0.5, 5).Draw(t, "pit")
		deep := welldesign.Protect(s, w, geo.Some(pit+1), k)
		shallow := welldesign.Protect(s, w, geo.Some(pit), k)
		if worse[shallow.DryRisk] > worse[deep.DryRisk] || shallow.DryM < deep.DryM {
			t.Fatalf("pit of %v m: %+v, a metre deeper %+v", pit, shallow, deep)
		}
		if d, ok := shallow.TravelM.Get(); ok != shallow.Feasible || ok && !(d > 0 && d <= shallow.TravelHi.Or(0)+1e-9) {
			t.Fatalf("travel %+v", shallow)
		}
		if shallow.PitFits != (shallow.DeepestM >= pit-1e-6) {
			t.Fatalf("%+v", shallow)
		}
	})
}
