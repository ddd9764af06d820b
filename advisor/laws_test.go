package advisor_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"

	"pgregory.net/rapid"
)

// anyRegion draws records as offices keep them: positions that repeat, logs that begin
// below the surface, overlap, leave gaps or pass the model's depth, bores without depth,
// month or method.
func anyRegion(t *rapid.T) *memory {
	m := &memory{}
	n := rapid.IntRange(1, 50).Draw(t, "bores")
	for i := range n {
		b := geo.Bore{
			ID:       geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012x", i)),
			Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: coarse(t, "lon"), Lat: coarse(t, "lat")}}),
			Outcome:  rapid.SampledFrom(geo.Outcomes()).Draw(t, "outcome"),
			Method:   rapid.SampledFrom([]geo.Method{"auger", "sludging", geo.MethodMachine, ""}).Draw(t, "method"),
			Layers:   rapid.SliceOfN(rapid.Custom(anyLayer), 0, 6).Draw(t, "layers"),
			Levels:   rapid.SliceOfN(rapid.Custom(anyLevel), 0, 2).Draw(t, "levels"),
		}
		if rapid.Bool().Draw(t, "depth known") {
			b.DepthM = geo.Some(rapid.Float64Range(0, 80).Draw(t, "depth"))
		}
		checked, err := geo.NewBore(b)
		if err != nil {
			t.Fatal(err)
		}
		m.bores = append(m.bores, checked)
	}
	m.seq = int64(n)
	return m
}

func coarse(t *rapid.T, name string) float64 {
	return float64(rapid.IntRange(-10, 10).Draw(t, name)) / 100
}

func anyLayer(t *rapid.T) geo.Layer {
	top := rapid.Float64Range(0, 45).Draw(t, "top")
	return geo.Layer{
		TopM: top, BaseM: top + rapid.Float64Range(0.05, 20).Draw(t, "thickness"), Confidence: 1,
		Class:  soil.Class(rapid.IntRange(0, soil.Count).Draw(t, "class")),
		Clayey: rapid.Bool().Draw(t, "clayey"),
	}
}

func anyLevel(t *rapid.T) geo.Level {
	l := geo.Level{
		State:  rapid.SampledFrom([]geo.LevelState{geo.LevelRest, geo.LevelRest, geo.LevelFlowing, geo.LevelDryTo}).Draw(t, "state"),
		DepthM: geo.Some(rapid.Float64Range(0, 60).Draw(t, "level")),
	}
	if month := rapid.IntRange(0, 12).Draw(t, "month"); month > 0 {
		l.On = geo.Some(geo.Date{Year: 2012, Month: month})
	}
	return l
}

// Whatever the records hold, an answer keeps its promises.
func TestLawsOfAnyRegion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := eager(t, anyRegion(t))
		out := advise(t, a, coarse(t, "at lon"), coarse(t, "at lat"))
		if _, err := json.Marshal(out); err != nil { // a number that is none
			t.Fatal(err)
		}
		for _, m := range out.Methods {
			checkChance(t, m)
		}
		if out.Odds != nil {
			checkOdds(t, out.Odds.Odds)
		}
		if w := out.Water; w != nil {
			checkWater(t, *w)
		}
		if out.Plan != nil {
			checkPlan(t, *out.Plan)
		}
	})
}

// eager is an advisor that plans wherever a well may work at all, so that plans are many.
func eager(t rapid.TB, src evidence.Source) *advisor.Advisor {
	t.Helper()
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	rules.Thresholds = advisor.Thresholds{Go: 2, Care: 1e-6}
	return advisorOf(t, src, rules)
}

func checkChance(t rapid.TB, m advisor.MethodChance) {
	t.Helper()
	sum := m.Chance
	for _, r := range m.Reasons {
		if r.Share < 0 {
			t.Errorf("%s: %s has a share of %v", m.Method, r.Code, r.Share)
		}
		sum += r.Share
	}
	if math.Abs(sum-1) > 1e-9 { // rounding over 50,000 sums
		t.Errorf("%s: chance and reasons add up to %v", m.Method, sum)
	}
	if !(0 <= m.Lo && m.Lo <= m.Chance && m.Chance <= m.Hi && m.Hi <= 1+1e-9) {
		t.Errorf("%s: chance %v, range %v to %v", m.Method, m.Chance, m.Lo, m.Hi)
	}
}

func checkOdds(t rapid.TB, odds [][]float64) {
	t.Helper()
	for i, row := range odds {
		sum := 0.0
		for _, p := range row {
			if p < 0 {
				t.Errorf("cell %d: odds %v", i, row)
			}
			sum += p
		}
		if math.Abs(sum-1) > 1e-9 { // rounding over a few hundred sums
			t.Errorf("cell %d: odds add up to %v", i, sum)
		}
	}
}

func checkWater(t rapid.TB, w advisor.Water) {
	t.Helper()
	for i := range w.Quantiles[1:] {
		if w.Quantiles[i] > w.Quantiles[i+1] {
			t.Errorf("quantiles %v", w.Quantiles)
		}
	}
	if w.WetHigh.P50 > w.NormalLow.P50 || w.NormalLow.P50 > w.DesignLow.P50 {
		t.Errorf("wet %v, low %v, design low %v", w.WetHigh, w.NormalLow, w.DesignLow)
	}
}

// checkPlan holds a plan to the design: a seal of at least 3 m from the ground, clay
// between it and the pack, pack of at least 0.6 m over the screen and down to the bottom,
// no gaps; tools without a gap from the surface.
func checkPlan(t rapid.TB, p advisor.Plan) {
	t.Helper()
	const eps = 1e-9 // half metres and tenths, added
	w := p.Well
	checkFills(t, w)
	if length := w.ScreenM[1] - w.ScreenM[0]; length < 1-eps || length > 6+eps || w.BottomM < w.ScreenM[1]+0.5-eps {
		t.Errorf("screen %v, bottom %v", w.ScreenM, w.BottomM)
	}
	if w.ScreenM[0] < w.DesignM-eps {
		t.Errorf("screen %v above the low of %v that it is built for", w.ScreenM, w.DesignM)
	}
	if b := p.BottomM; b.P10 > b.P50 || b.P50 > b.P90 || w.BottomM < b.P10 || w.BottomM > b.P90 {
		t.Errorf("a hole of %v m, bottoms %v", w.BottomM, b)
	}
	at := 0.0
	for _, tool := range p.Tools {
		if tool.TopM != at || tool.BaseM <= tool.TopM {
			t.Errorf("tools %v", p.Tools)
		}
		at = tool.BaseM
	}
	if at > p.BottomM.P90+eps {
		t.Errorf("tools to %v m in a hole of %v", at, p.BottomM)
	}
}

func checkFills(t rapid.TB, w welldesign.Well) {
	t.Helper()
	const eps = 1e-9 // tenths, added
	if len(w.Fills) < 2 || w.Fills[0].Kind != geo.Grout || w.Fills[0].TopM != 0 || w.Fills[0].BaseM < 3-eps {
		t.Fatalf("fills %v do not begin with a seal of 3 m", w.Fills)
	}
	for i, f := range w.Fills[1:] {
		if math.Abs(f.TopM-w.Fills[i].BaseM) > eps {
			t.Errorf("fills %v leave a gap", w.Fills)
		}
	}
	last := w.Fills[len(w.Fills)-1]
	if w.Casing.Natural { // the ground closes around the screen
		return
	}
	over := w.Fills[len(w.Fills)-2]
	if last.Kind != geo.Pack || last.BaseM != w.BottomM || w.ScreenM[0]-last.TopM < 0.6-eps || over.Kind != geo.ClaySeal || over.BaseM-over.TopM < 0.5-eps {
		t.Errorf("fills %v around screen %v, bottom %v", w.Fills, w.ScreenM, w.BottomM)
	}
}
