package demoland_test

import (
	"math"
	"testing"

	"waterstrike/geo/demoland"
)

func TestVerdictLaws(t *testing.T) {
	for _, l := range lands() {
		for _, p := range l.VillageSites(200, 7) {
			for _, crew := range demoland.Crews() {
				rules := demoland.HandPump(crew.Limits, crew.HoleMM)
				v, c := l.Judge(p, rules), l.Column(p)
				if (v.Fails == demoland.None) != l.Succeeds(p, rules) {
					t.Fatal("Judge and Succeeds differ")
				}
				checkVerdict(t, c, rules, v)
				for name, easier := range eased(rules) {
					if v.Fails == demoland.None && !l.Succeeds(p, easier) {
						t.Errorf("%s: works, but not with %s", crew.Method, name)
					}
				}
			}
		}
	}
}

func checkVerdict(t *testing.T, c demoland.Column, r demoland.Rules, v demoland.Verdict) {
	t.Helper()
	if v.BottomM > r.MaxDepthM {
		t.Errorf("bottom at %v m by a method of %v m", v.BottomM, r.MaxDepthM)
	}
	if v.Fails != demoland.None {
		return
	}
	top, base := v.ScreenM[0], v.ScreenM[1]
	if top < c.DesignLowM || top < r.AboveScreenM || base > v.BottomM-r.SumpM || base-top > r.ScreenM+1e-9 {
		t.Errorf("screen %v-%v m under a design low of %v m in a hole of %v m", top, base, c.DesignLowM, v.BottomM)
	}
	if n := waters(c, top, base, r.PartingM); n != 1 {
		t.Errorf("screen %v-%v m stands in %d waters", top, base, n)
	}
}

// waters counts the runs of ground between two depths that give water, with tight ground of
// a thickness between them.
func waters(c demoland.Column, top, base, parting float64) (n int) {
	tight := math.Inf(1)
	for _, l := range c.Layers {
		within := min(l.BaseM, base) - max(l.TopM, top)
		switch {
		case within <= 1e-9:
		case !l.GivesWater():
			tight += within
		default:
			if tight >= parting {
				n++
			}
			tight = 0
		}
	}
	return n
}

// A land whose waters no pack joins has fewer good places, and none that the other lacks.
func TestPartedWatersFailMore(t *testing.T) {
	auger := demoland.Crews()[0]
	parted := demoland.HandPump(auger.Limits, auger.HoleMM)
	joined := parted
	joined.PartingM = math.Inf(1)
	fewer := 0
	for _, l := range lands() {
		for _, p := range l.VillageSites(500, 9) {
			if l.Succeeds(p, joined) && !l.Succeeds(p, parted) {
				fewer++
			}
		}
	}
	if fewer == 0 {
		t.Error("no bore needs two waters")
	}
}

// eased lists rules that ask less, each in one respect.
func eased(r demoland.Rules) map[string]demoland.Rules {
	deeper, further, lessYield, joined, wet := r, r, r, r, r
	deeper.MaxDepthM += 10
	further.BelowWaterM += 10
	lessYield.YieldLPS /= 2
	joined.PartingM = math.Inf(1)
	for i := range wet.PassM {
		wet.PassM[i] *= 2
	}
	return map[string]demoland.Rules{"a longer string": deeper, "more reach": further, "less yield": lessYield, "a pack through partings": joined, "a sharper bit": wet}
}

// Bores drilled when water is high end higher, so that fewer last.
func TestWetSeasonBoresLastLess(t *testing.T) {
	auger := demoland.Crews()[0]
	dry := demoland.HandPump(auger.Limits, auger.HoleMM)
	dry.BelowWaterM = 3
	wet := dry
	wet.Season = 1
	fewer := 0
	for _, l := range lands() {
		for _, p := range l.VillageSites(500, 9) {
			if l.Succeeds(p, wet) && !l.Succeeds(p, dry) {
				t.Errorf("at %v a bore lasts only when drilled wet", p)
			}
			if l.Succeeds(p, dry) && !l.Succeeds(p, wet) {
				fewer++
			}
		}
	}
	if fewer == 0 {
		t.Error("no bore was lost by drilling in the wet season")
	}
}
