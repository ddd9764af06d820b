package welldesign_test

import (
	"slices"
	"strings"
	"testing"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// What a driller found in the plans of demo and real places, and would have laughed at or
// been hurt by. The rules are common practice, no source.

// A pump at the foot of a screen has blank pipe below it, even where the hole can go no
// deeper: here the auger ends half a metre below the sand.
func TestPumpAtTheFootStandsOverBlankPipe(t *testing.T) {
	k := kit(t, "percussion")
	k.Method.MaxDepthM = 11
	for _, depth := range []float64{10.4, 10.5, 10.8, 11} {
		site := welldesign.Site{Layers: column(soil.Clay, 6.0, soil.WeatheredRock, depth-6, soil.Rock, 9.0), Water: water(1, 2.5, 3)}
		w := designed(t, site, k)
		if w.IntakeM < w.ScreenM[1]-1e-9 {
			t.Fatalf("%v m: the intake is not at the foot: %+v", depth, w)
		}
		if w.BottomM-w.ScreenM[1] < k.Rules.Screen.SumpLong.Value-1e-9 {
			t.Errorf("%v m: %v m of blank pipe below the pump", depth, w.BottomM-w.ScreenM[1])
		}
		for _, n := range w.Notes {
			if n.Code == "well.note.intake-at-slots" {
				t.Errorf("%v m: the crew is told to change the drawing", depth)
			}
		}
	}
}

// A pump that could not lift from its own intake does not come first where another serves as
// many people: in a year drier than one in ten the water stands there.
func TestFirstPumpLiftsFromTheIntake(t *testing.T) {
	k := kit(t, "percussion")
	site := welldesign.Site{Layers: column(soil.Clay, 6.0, soil.WeatheredRock, 9.2, soil.Rock, 3.0), Water: water(4.8, 7.2, 7.8)}
	w := designed(t, site, k)
	first, second := w.Pumps[0], w.Pumps[1]
	if first.People != second.People {
		t.Fatalf("the pumps differ in people: %+v", w.Pumps)
	}
	i := slices.IndexFunc(k.Pumps, func(p welldesign.Pump) bool { return p.Code == first.Code })
	k.Pumps[i].LiftM = w.IntakeM + k.Rules.Pipe.StickUp.Value - 0.2
	if got := designed(t, site, k).Pumps; got[0].Code != second.Code || len(got) != len(w.Pumps) {
		t.Errorf("%s lifts %v m, intake at %v m: %+v", first.Code, k.Pumps[i].LiftM, w.IntakeM, got)
	}
}

// What the working rules ask for is in the load: surface casing for running sand, a cap for
// water that may flow out, cement enough to close the hole.
func TestLoadHoldsWhatTheRulesAskFor(t *testing.T) {
	sludging := kit(t, "rotary-sludging")
	w := designed(t, welldesign.Site{Layers: column(soil.Clay, 4.0, soil.Sand, 14.0), Water: water(0.2, 0.8, 0.9)}, sludging)
	loads := welldesign.Quantities(w, sludging, 0.5)
	if loads[welldesign.TemporaryCasing] < sludging.Method.SurfaceM || sludging.Method.SurfaceM == 0 {
		t.Errorf("%v m of casing are loaded, %v m of surface casing asked for", loads[welldesign.TemporaryCasing], sludging.Method.SurfaceM)
	}
	if !slices.Contains(welldesign.Kitbag(sludging.Method, w), "kit.flow-cap") {
		t.Error("the caution asks for a cap and none is loaded")
	}
	closing, err := welldesign.Close(welldesign.Site{Layers: column(soil.Clay, 4.0, soil.Sand, 14.0), Water: water(0.2, 0.8, 0.9)}, w.BottomM, w.Casing.HoleMM, sludging.Rules)
	if err != nil || closing.CementB > loads[welldesign.Cement] {
		t.Errorf("closing takes %v bags, %v are loaded: %v", closing.CementB, loads[welldesign.Cement], err)
	}
}

// Between cement and clay, sand that stands above all water takes clayey cuttings: ten metres
// of bentonite over a sand that is always dry seal nothing. Below the water they stay clay.
func TestDrySandTakesNoBentonite(t *testing.T) {
	k := kit(t, "percussion")
	layers := column(soil.Clay, 6.0, soil.Sand, 2.0, soil.Clay, 6.0, soil.Coarse, 10.0)
	for _, tt := range []struct {
		wet  float64
		want geo.FillKind
	}{{9, geo.Backfill}, {7, geo.ClaySeal}} {
		w := designed(t, welldesign.Site{Layers: layers, Water: water(tt.wet, 11, 12)}, k)
		i := slices.IndexFunc(w.Fills, func(f geo.Fill) bool { return f.TopM <= 6.5 && f.BaseM >= 7.5 })
		if i < 0 || w.Fills[i].Kind != tt.want {
			t.Errorf("water up to %v m: %+v, want %s opposite the upper sand", tt.wet, w.Fills, tt.want)
		}
	}
}

// The travel of germs is told in the days of the rule, and where it may be further than the
// distance asked for the sheet says that this is not enough.
func TestTravelIsToldBesideTheRule(t *testing.T) {
	k := kit(t, "percussion")
	for _, tt := range []struct {
		class   soil.Class
		further bool
	}{{soil.Sand, true}, {soil.WeatheredRock, false}} {
		site := welldesign.Site{Layers: column(soil.Topsoil, 1.0, tt.class, 20.0), Water: water(2, 4, 4.5)}
		p := welldesign.Protect(site, designed(t, site, k), geo.Opt[float64]{}, k)
		codes := map[geo.Code]bool{}
		for _, n := range p.Notes {
			codes[n.Code] = true
		}
		far := p.TravelHi.Or(0) > max(p.TravelM.Or(0), k.Rules.Apart.Latrine.Value().LatrineM)
		if far != tt.further || codes["apart.travel-further"] != far || !codes["apart.travel"] && !codes["apart.travel-only"] {
			t.Errorf("%v: %v to %v m, told %v", tt.class, p.TravelM, p.TravelHi, codes)
		}
	}
}

// A finished bore whose whole screen stands above the level that was read in it gives no
// water: that is more than an upper part which falls dry.
func TestReviewTellsADryScreen(t *testing.T) {
	for _, tt := range []struct {
		rest float64
		want geo.Code
	}{{6, "issue.screen-dry"}, {5, "issue.screen-dry"}, {4, "issue.screen-above-level"}, {2, ""}} {
		b := geo.Bore{
			Layers: []geo.Layer{{TopM: 0, BaseM: 14, Class: soil.Sand}}, DepthM: geo.Some(14.0),
			Pipes:  []geo.Pipe{{Kind: geo.Casing, BaseM: 3}, {Kind: geo.Screen, TopM: 3, BaseM: 5}, {Kind: geo.Plug, TopM: 5, BaseM: 6}},
			Levels: []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(tt.rest)}},
		}
		got := geo.Code("")
		for _, i := range welldesign.Review(b, geo.Opt[welldesign.Water]{}, rules(t)).Issues {
			if i.Message.Code == "issue.screen-dry" || i.Message.Code == "issue.screen-above-level" {
				got = i.Message.Code
			}
		}
		if got != tt.want {
			t.Errorf("water at %v m: %q, want %q", tt.rest, got, tt.want)
		}
	}
}

// What was never tested stands on one line, whatever is missing.
func TestReviewGathersWhatWasNotTested(t *testing.T) {
	for _, tt := range []struct {
		tested []string
		want   string
	}{
		{nil, "asbuilt.not-analysed reason=[analyte.e-coli analyte.nitrate analyte.ec analyte.arsenic analyte.fluoride]"},
		{[]string{"e-coli", "ec", "arsenic", "nitrate"}, "asbuilt.not-analysed reason=[analyte.fluoride]"},
		{[]string{"e-coli", "ec", "arsenic", "nitrate", "fluoride"}, ""},
	} {
		b, got := geo.Bore{Outcome: geo.Producing}, []string(nil)
		for _, analyte := range tt.tested {
			b.Samples = append(b.Samples, geo.Sample{Analyte: analyte})
		}
		for _, i := range welldesign.Review(b, geo.Opt[welldesign.Water]{}, rules(t)).Issues {
			if i.Message.Code == "asbuilt.not-analysed" {
				got = append(got, i.Message.String())
			}
		}
		if len(got) > 1 || strings.Join(got, "") != tt.want {
			t.Errorf("tested for %v: %q, want %q", tt.tested, got, tt.want)
		}
	}
}
