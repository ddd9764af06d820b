package welldesign_test

import (
	"fmt"
	"math"
	"testing"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// A usual hole: seal, clay, pack, screen and plug follow each other without a gap.
func TestDesignOfTheValley(t *testing.T) {
	w := designed(t, valley(), kit(t, "auger"))
	if w.Verdict != welldesign.Fits {
		t.Fatalf("%+v", w)
	}
	near(t, "screen's top", w.ScreenM[0], 7, 1e-9) // foot 5 m below the low of 5 m
	near(t, "screen's foot", w.ScreenM[1], 10, 1e-9)
	last := 0.0
	for _, f := range w.Fills {
		near(t, string(f.Kind), f.TopM, last, 1e-9)
		last = f.BaseM
	}
	near(t, "fills end", last, w.BottomM, 1e-9)
	if w.Casing.OutsideMM != 110 || w.Casing.HoleMM != 150 || w.Casing.InsideMM != 100 { // 5 mm wall
		t.Errorf("casing %+v", w.Casing)
	}
	if len(w.Pipes) != 3 || w.Pipes[2].Kind != geo.Plug || w.Pipes[2].BaseM != w.BottomM {
		t.Errorf("pipes %+v", w.Pipes)
	}
	if w.Filter.LoMM != 2 || w.Filter.HiMM != 5 || !w.Filter.ByHand { // coarse sand: 2-5 mm (common practice)
		t.Errorf("filter %+v", w.Filter)
	}
}

// design.md 5.5: the seal wins over the pack. As the only sand rises the pack shrinks from
// 2 m to 0.6 m over the screen, the cement keeps its 3 m, and then nothing is built.
func TestSealWinsOverPack(t *testing.T) {
	k := kit(t, "percussion")
	for _, tt := range []struct {
		sandBase float64
		pack     float64 // over the screen; 0 for unsafe
	}{
		{9.0, 2}, {8.6, 2}, {8.1, 1.6}, {7.6, 1.1}, {7.1, 0.6}, {6.1, 0.6}, {5.1, 0.6}, {5.0, 0}, {4.6, 0},
	} {
		site := welldesign.Site{
			Layers: column(soil.Clay, 2.0, soil.Coarse, tt.sandBase-2, soil.Clay, 8.0),
			Water:  water(1, 2, 2.2),
		}
		k.Rules.Screen.BelowLow.Value = 20 // as deep as there is sand
		k.Rules.Yield.Wanted.Value = 0.05
		w := designed(t, site, k)
		if tt.pack == 0 {
			if w.Verdict != welldesign.Unsafe || w.Why[0].Code != "well.why.no-room-for-seal" {
				t.Errorf("sand to %v m: %s %v", tt.sandBase, w.Verdict, w.Why)
			}
			continue
		}
		packTop, _, _ := fill(w, geo.Pack)
		_, cement, _ := fill(w, geo.Grout)
		near(t, fmt.Sprintf("sand to %v m: pack over the screen", tt.sandBase), w.ScreenM[0]-packTop, tt.pack, 1e-9)
		if cement < 3-1e-9 {
			t.Errorf("sand to %v m: only %v m of cement", tt.sandBase, cement)
		}
	}
}

func TestUnsafeHere(t *testing.T) {
	k := kit(t, "percussion")
	tests := []struct {
		name string
		site welldesign.Site
		kit  func(*welldesign.Kit)
		want geo.Code
		why  geo.Code
	}{
		{
			"sand too near the surface",
			welldesign.Site{Layers: column(soil.Coarse, 4.5, soil.Clay, 20.0), Water: water(0.5, 1, 1.2)},
			nil, welldesign.Unsafe, "well.why.no-room-for-seal",
		},
		{
			"thin clay between two sands, the lower one thin too",
			welldesign.Site{Layers: column(soil.Clay, 3.0, soil.Fine, 0.6, soil.Clay, 0.6, soil.Coarse, 1.3, soil.Clay, 20.0), Water: water(1, 2, 2.4)},
			func(k *welldesign.Kit) { k.Rules.Yield.Wanted.Value = 0.1 }, welldesign.Unsafe, "well.why.pack-would-join",
		},
		{
			"the same with more of the lower sand",
			welldesign.Site{Layers: column(soil.Clay, 3.0, soil.Fine, 0.6, soil.Clay, 0.6, soil.Coarse, 4.0, soil.Clay, 20.0), Water: water(1, 2, 2.4)},
			func(k *welldesign.Kit) { k.Rules.Yield.Wanted.Value = 0.1 }, welldesign.Fits, "",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			k := k
			rules := *k.Rules
			k.Rules = &rules
			if tt.kit != nil {
				tt.kit(&k)
			}
			w := designed(t, tt.site, k)
			if w.Verdict != tt.want || tt.why != "" && !has(w.Why, tt.why) {
				t.Errorf("%s %v, want %s %s", w.Verdict, w.Why, tt.want, tt.why)
			}
			if tt.want != welldesign.Fits && (w.BottomM != 0 || len(w.Fills) > 0) {
				t.Errorf("an unsafe well is described all the same: %+v", w)
			}
		})
	}
}

func TestWhyNoWell(t *testing.T) {
	tests := []struct {
		name   string
		method geo.Method
		site   welldesign.Site
		why    geo.Code
	}{
		{"too deep", "auger", welldesign.Site{Layers: column(soil.Clay, 40.0), Water: water(22, 24, 25)}, "well.why.too-deep"},
		{"crust", "auger", welldesign.Site{Layers: column(soil.Clay, 2.0, soil.Hardpan, 2.0, soil.Coarse, 20.0), Water: water(4, 5, 6)}, "well.why.stopped"},
		{"clay all the way", "auger", welldesign.Site{Layers: column(soil.Clay, 40.0), Water: water(4, 5, 6)}, "well.why.no-layer"},
		{"reach below water", "auger", welldesign.Site{Layers: column(soil.Clay, 10.0, soil.Coarse, 1.0, soil.Clay, 20.0), Water: water(4, 5, 10.6)}, "well.why.reach-below-water"},
		{"too little", "auger", welldesign.Site{Layers: column(soil.Clay, 6.0, soil.WeatheredRock, 3.0, soil.Rock, 9.0), Water: water(4, 5, 6)}, "well.why.too-little"},
		{"too narrow to seal between waters", "sludging", welldesign.Site{Layers: column(soil.Clay, 15.0, soil.Fine, 2.0, soil.Clay, 1.0, soil.Coarse, 10.0), Water: water(16, 17, 18)}, "well.why.narrow-hole-joins"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := designed(t, tt.site, kit(t, tt.method))
			if w.Verdict == welldesign.Fits || !has(w.Why, tt.why) {
				t.Errorf("%s %v %+v, want %s", w.Verdict, w.Why, w.Notes, tt.why)
			}
		})
	}
}

// In a hole of at most 90 mm no pump that lifts from 18 m stands.
func TestHoleTooNarrow(t *testing.T) {
	k := kit(t, "sludging")
	m := *k.Method
	m.HoleRangeMM[1] = 90
	k.Method = &m
	site := welldesign.Site{Layers: column(soil.Clay, 15.0, soil.Coarse, 10.0), Water: water(14, 15, 16)}
	w := designed(t, site, k)
	if w.Verdict != welldesign.NoWell || !has(w.Why, "well.why.hole-too-narrow") {
		t.Errorf("%s %v", w.Verdict, w.Why)
	}
	m.HoleRangeMM[1] = 100 // 75 mm pipe with the sand closing around it
	if w = designed(t, site, k); w.Verdict != welldesign.Fits || !w.Casing.Natural || w.Casing.OutsideMM != 75 || w.WidenM != 3.5 {
		t.Errorf("%s %+v", w.Verdict, w.Casing)
	}
}

// A pack may never stand above the top of the layer it is in, by one source.
func TestPackWithinTheLayer(t *testing.T) {
	k := kit(t, "percussion")
	site := welldesign.Site{Layers: column(soil.Clay, 8.0, soil.Coarse, 6.0, soil.Clay, 8.0), Water: water(4, 5, 6)}
	top, _, _ := fill(designed(t, site, k), geo.Pack)
	k.Rules.Pack.Top, _ = k.Rules.Pack.Top.Choose("within-layer")
	w := designed(t, site, k)
	within, _, _ := fill(w, geo.Pack)
	if top >= 8 || within < 8 || w.ScreenM[0] < 8.6-1e-9 {
		t.Errorf("pack from %v, within the layer from %v, screen %v", top, within, w.ScreenM)
	}
}

// Through another body of water the hole is filled with clay, not with cuttings.
func TestClayThroughTheUpperSand(t *testing.T) {
	site := welldesign.Site{
		Layers: column(soil.Clay, 6.0, soil.Medium, 3.0, soil.Clay, 5.0, soil.Coarse, 6.0),
		Water:  water(5, 9, 10),
	}
	w := designed(t, site, kit(t, "percussion"))
	if w.Verdict != welldesign.Fits || w.ScreenM[0] < 14 {
		t.Fatalf("%s %v", w.Verdict, w.ScreenM)
	}
	for _, f := range w.Fills {
		if f.Kind == geo.Backfill && f.TopM < 9 && f.BaseM > 6 {
			t.Errorf("cuttings beside the upper sand: %+v", w.Fills)
		}
	}
	packTop, _, _ := fill(w, geo.Pack)
	if packTop < 9.5 {
		t.Errorf("pack from %v, the upper sand ends at 9", packTop)
	}
}

// The machine norm of 76 mm flags every hand-drilled hole and fails none.
func TestMachineNormFlags(t *testing.T) {
	k := kit(t, "auger")
	if w := designed(t, valley(), k); has(w.Notes, "well.note.thin-pack") {
		t.Error("the hand norm flags a usual hole")
	}
	k.Rules.Pack.Thickness, _ = k.Rules.Pack.Thickness.Choose("machine")
	if w := designed(t, valley(), k); w.Verdict != welldesign.Fits || !has(w.Notes, "well.note.thin-pack") {
		t.Errorf("%s %v", w.Verdict, w.Notes)
	}
}

// Intake: 3 m below the pumping level and 1 m over the screen in blank pipe where there is
// room, else in the long sump (common practice, no source).
func TestIntake(t *testing.T) {
	k := kit(t, "percussion")
	deep := welldesign.Site{Layers: column(soil.Clay, 12.0, soil.Coarse, 8.0), Water: water(5, 6, 7)}
	w := designed(t, deep, k)
	if w.IntakeM > w.ScreenM[0]-1+1e-9 || w.IntakeM < w.PumpingM+3-1e-9 {
		t.Errorf("intake %v, pumping %v, screen %v", w.IntakeM, w.PumpingM, w.ScreenM)
	}
	w = designed(t, valley(), k)
	if w.IntakeM != w.ScreenM[1] || w.BottomM-w.ScreenM[1] != 1 {
		t.Errorf("intake %v, screen %v, bottom %v", w.IntakeM, w.ScreenM, w.BottomM)
	}
}

// A drawdown that the ground gives must come back as the level that the screen was judged
// by: at the usable drawdown the cover is left over its foot.
func TestPumpingLevelLeavesTheCover(t *testing.T) {
	k := kit(t, "auger")
	for _, class := range []any{soil.Fine, soil.Medium, soil.Coarse, soil.Gravel} {
		site := valley()
		site.Layers = column(soil.Clay, 4.5, class, 15.0)
		w := designed(t, site, k)
		if w.Verdict != welldesign.Fits {
			continue
		}
		if w.PumpingM < w.DesignM || w.PumpingM > w.ScreenM[1]-1+1e-9 {
			t.Errorf("%v: pumped from %v to %v, screen %v", class, w.DesignM, w.PumpingM, w.ScreenM)
		}
	}
}

// Three rows of a fifth of the way round, a slot of 1 mm every 10 mm: 300 cuts a metre and
// 6 % open, the upper end of 3-6 % for sawn pipe (Driscoll, memory).
func TestSlots(t *testing.T) {
	w := designed(t, valley(), kit(t, "auger"))
	if w.Slots.Cuts != 900 {
		t.Errorf("%d cuts", w.Slots.Cuts)
	}
	near(t, "open", w.Slots.OpenShare, 0.06, 1e-9)
	near(t, "cut", w.Slots.LengthMM, math.Pi*110/5, 1e-9)
	// 0.25 L/s through half of 3 m · π · 0.11 m · 6 %: by hand 0.00804 m/s.
	near(t, "speed", w.Slots.EntranceMS, 0.00804, 0.00001)
	if w.Slots.TooFast {
		t.Error("under 0.03 m/s is too fast")
	}
}

func TestDesignRefusesContradictions(t *testing.T) {
	k := kit(t, "auger")
	nan := math.NaN()
	tests := []struct {
		name string
		site welldesign.Site
		want geo.Code
	}{
		{"no layers", welldesign.Site{Water: water(1, 2, 3)}, "well.input.no-layers"},
		{"layers apart", welldesign.Site{Layers: []welldesign.Layer{{TopM: 0, BaseM: 2}, {TopM: 3, BaseM: 4}}, Water: water(1, 2, 3)}, "well.input.layers-apart"},
		{"not from the ground", welldesign.Site{Layers: []welldesign.Layer{{TopM: 1, BaseM: 2}}, Water: water(1, 2, 3)}, "well.input.layers-apart"},
		{"upside down", welldesign.Site{Layers: []welldesign.Layer{{TopM: 0, BaseM: -2}}, Water: water(1, 2, 3)}, "well.input.layer-upside-down"},
		{"no number", welldesign.Site{Layers: []welldesign.Layer{{TopM: 0, BaseM: nan}}, Water: water(1, 2, 3)}, "well.input.layer-upside-down"},
		{"levels crossed", welldesign.Site{Layers: column(soil.Clay, 9.0), Water: water(3, 2, 1)}, "well.input.levels-crossed"},
		{"no level", welldesign.Site{Layers: column(soil.Clay, 9.0), Water: water(1, nan, 3)}, "well.input.levels-crossed"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := welldesign.Design(tt.site, k)
			var e *geo.Error
			if geo.KindOf(err) != geo.Invalid {
				t.Fatalf("error %v", err)
			}
			if e, _ = err.(*geo.Error); e.Message.Code != tt.want {
				t.Errorf("%v, want %s", e.Message, tt.want)
			}
		})
	}
}

// String of 3 m lengths: from the bottom the plug, the screen, the casing, the last piece
// half a metre out of the ground.
func TestPieces(t *testing.T) {
	k := kit(t, "auger")
	w := designed(t, valley(), k)
	pieces := welldesign.Pieces(w, k.Rules)
	if pieces[0].Kind != geo.Plug || pieces[1].Kind != geo.Screen || pieces[1].LengthM != 3 {
		t.Errorf("%+v", pieces)
	}
	base := w.BottomM
	for _, p := range pieces {
		near(t, "piece", p.BaseM, base, 1e-9)
		if p.LengthM > 3+1e-9 || p.LengthM <= 0 {
			t.Errorf("%+v", p)
		}
		base = p.TopM
	}
	near(t, "stick-up", base, -0.5, 1e-9)
}

// No stub shorter than half a metre is left to be glued on: the last two pieces share.
func TestNoStubs(t *testing.T) {
	r := rules(t)
	for tenths := range 200 {
		w := welldesign.Well{Pipes: []geo.Pipe{{Kind: geo.Casing, TopM: 0, BaseM: 1 + float64(tenths)/10}}}
		left := 1.5 + float64(tenths)/10
		for _, p := range welldesign.Pieces(w, r) {
			if p.LengthM < 0.5-1e-9 || p.LengthM > 3+1e-9 {
				t.Errorf("casing to %v m: a piece of %v m", w.Pipes[0].BaseM, p.LengthM)
			}
			left -= p.LengthM
		}
		near(t, "all of it", left, 0, 1e-9)
	}
}

// A usual hole of rotated sludging takes a suction pump alone; a wider one takes a rope pump
// for more people, and is asked for.
func TestWiderHoleForMorePeople(t *testing.T) {
	k := kit(t, "rotary-sludging")
	site := welldesign.Site{Layers: column(soil.Clay, 5.0, soil.Coarse, 10.0), Water: water(2, 3, 4)}
	w := designed(t, site, k)
	if w.Casing.HoleMM != 115 || w.Casing.OutsideMM != 75 || w.Pumps[0].Code != "rope" || !has(w.Notes, "well.note.wider-hole") {
		t.Errorf("%+v %+v", w.Casing, w.Pumps)
	}
	m := *k.Method
	m.HoleRangeMM[1] = 100
	k.Method = &m
	if w = designed(t, site, k); w.Casing.OutsideMM != 50 || !has(w.Notes, "well.note.only-suction") {
		t.Errorf("%+v %+v", w.Casing, w.Pumps)
	}
}

// An auger goes 6 m below water: what it reaches from the low of the dry season it does not
// reach from the high of the rains.
func TestDrySeasonOnly(t *testing.T) {
	k := kit(t, "auger")
	site := welldesign.Site{Layers: column(soil.Clay, 4.0, soil.Medium, 12.0), Water: water(2, 5, 6)}
	if w := designed(t, site, k); !has(w.Notes, "well.note.dry-season-only") {
		t.Errorf("bottom %v, notes %v", w.BottomM, w.Notes)
	}
	site.Water.WetHighM = 5
	if w := designed(t, site, k); has(w.Notes, "well.note.dry-season-only") {
		t.Errorf("bottom %v, notes %v", w.BottomM, w.Notes)
	}
}

// Clay over the screened layer holds germs back where the sand itself would not.
func TestClayCover(t *testing.T) {
	k := kit(t, "percussion")
	none := geo.Opt[float64]{}
	covered := welldesign.Site{Layers: column(soil.Clay, 9.0, soil.Coarse, 6.0), Water: water(3, 4, 5)}
	p := welldesign.Protect(covered, designed(t, covered, k), none, k)
	if p.Feasible || math.Abs(p.ClayM-6) > 1e-9 || !has(p.Notes, "apart.clay-cover") || has(p.Notes, "apart.distance-no-help") {
		t.Errorf("%+v", p)
	}
	open := welldesign.Site{Layers: column(soil.Clay, 2.0, soil.Coarse, 13.0), Water: water(3, 4, 5)}
	p = welldesign.Protect(open, designed(t, open, k), none, k)
	if !has(p.Notes, "apart.distance-no-help") || !has(p.Notes, "apart.pit-too-deep") && !has(p.Notes, "apart.pit-in-water") {
		t.Errorf("%+v", p)
	}
}

// Chlorine to carry: for the well, for soaking the pack and, where it stays in the hole, for
// the drilling water: 6 m³ of jetting water at 50 mg/L take 429 g of a 70 % product.
func TestChlorineToCarry(t *testing.T) {
	k := kit(t, "jetting")
	w := designed(t, valley(), k)
	q := welldesign.Quantities(w, k, 0.5)
	want := k.Rules.Dose(w).Grams + welldesign.ProductG(q[welldesign.PackSand], 200, 0.7) + 428.57
	near(t, "chlorine", q[welldesign.Chlorine], want, 0.01)
}

// A closed hole: no gap, cement on top, clay opposite clay.
func TestCloseFillsTheHole(t *testing.T) {
	r := rules(t)
	site := welldesign.Site{Layers: column(soil.Clay, 5.0, soil.Coarse, 4.0, soil.Clay, 3.0, soil.WeatheredRock, 2.0), Water: water(4, 5, 6)}
	for _, depth := range []float64{1, 3, 4.2, 7, 11, 13, 17} {
		c, err := welldesign.Close(site, depth, 150, r)
		if err != nil {
			t.Fatal(err)
		}
		last, litres := 0.0, 0.0
		for _, f := range c.Fills {
			near(t, "fill", f.TopM, last, 1e-9)
			last = f.BaseM
			litres += welldesign.SpaceL(150, 0, f.BaseM-f.TopM)
		}
		near(t, "filled", last, depth, 1e-9)
		if c.Fills[0].Kind != geo.Grout || c.Fills[0].BaseM != min(3, depth) {
			t.Errorf("%v m: top %+v", depth, c.Fills[0])
		}
		// What is carried fills the hole with the loss of the rule: 34.5 L of slurry a bag.
		near(t, "carried", c.CementB*34.5+c.ClayL+c.SandL, 1.2*litres, 1e-6)
		if !has(c.Steps, "closing.same-day") {
			t.Error("not the same day")
		}
	}
	c, _ := welldesign.Close(site, 13, 150, r)
	want := []geo.FillKind{geo.Grout, geo.ClaySeal, geo.Backfill, geo.ClaySeal, geo.Backfill}
	for i, f := range c.Fills {
		if f.Kind != want[i] {
			t.Errorf("fills %+v", c.Fills)
		}
	}
}

// Chlorine breaks thickeners: said where a method thickens its water, and there the drilling
// water is not chlorinated.
func TestChlorineAndThickeners(t *testing.T) {
	for code, thick := range map[geo.Method]bool{"auger": false, "sludging": false, "rotary-sludging": true, "jetting": false} {
		k := kit(t, code)
		said := k.Rules.Disinfection(designed(t, valley(), k), k.Method)
		if has(said, "chlorine.breaks-thickener") != thick || thick && has(said, "chlorine.drill-water") {
			t.Errorf("%s: %v", code, said)
		}
	}
}

// What kills is said for every method, and first.
func TestCautions(t *testing.T) {
	for _, code := range []geo.Method{"auger", "percussion", "sludging", "rotary-sludging", "jetting"} {
		k := kit(t, code)
		list := welldesign.Cautions(k.Method, designed(t, valley(), k), k.Rules)
		for _, want := range []geo.Code{
			"caution.local-code", "caution.cleared-by-authority", "caution.never-enter", "caution.no-rescue", "caution.bad-air",
			"caution.power-lines", "caution.lightning", "caution.overhead-load", "caution.children", "caution.open-holes",
			"caution.never-hammer-casing", "caution.lifting", "caution.cement", "caution.chlorine",
		} {
			if !has(list, want) {
				t.Errorf("%s: %s is not said", code, want)
			}
		}
		if list[0].Code != "caution.local-code" {
			t.Errorf("%s begins with %s", code, list[0])
		}
	}
}

func TestReturnOf(t *testing.T) {
	r := rules(t)
	b := geo.Bore{Completed: geo.Some(geo.Date{Year: 2024, Month: 12, Day: 20}), DepthM: geo.Some(12.0), Method: "auger", Outcome: geo.Dry}
	out := welldesign.ReturnOf(b, r)
	if due, _ := out.Due.Get(); due != (geo.Date{Year: 2025, Month: 1, Day: 19}) { // 30 days on
		t.Errorf("due %v", due)
	}
	for _, absent := range []geo.Code{"return.position", "return.log", "return.fills", "return.driller", "return.dates", "return.level"} {
		found := false
		for _, c := range out.Absent {
			found = found || c == absent
		}
		if !found {
			t.Errorf("%s is not missed in %v", absent, out.Absent)
		}
	}
	b.Completed = geo.Some(geo.Date{Year: 2024, Month: 12})
	if welldesign.ReturnOf(b, r).Due.Known() {
		t.Error("due, though nobody knows the day")
	}
}

func ExampleDesign() {
	t := new(testing.T)
	site := welldesign.Site{
		Layers: column(soil.Clay, 6.0, soil.Medium, 8.0),
		Water:  welldesign.Water{WetHighM: 4, NormalLowM: 6, DesignLowM: 7},
	}
	w, err := welldesign.Design(site, kit(t, "auger"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(w.Verdict, "screen", w.ScreenM, "bottom", w.BottomM)
	for _, f := range w.Fills {
		fmt.Println(f.Kind, f.TopM, f.BaseM)
	}
	// Output:
	// well.verdict.fits screen [7 11] bottom 12
	// grout 0 4.5
	// clay 4.5 5
	// pack 5 12
}
