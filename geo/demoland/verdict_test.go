package demoland_test

import (
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
}

// eased lists rules that ask less, each in one respect.
func eased(r demoland.Rules) map[string]demoland.Rules {
	deeper, further, lessYield, wet := r, r, r, r
	deeper.MaxDepthM += 10
	further.BelowWaterM += 10
	lessYield.YieldLPS /= 2
	for i := range wet.PassM {
		wet.PassM[i] *= 2
	}
	return map[string]demoland.Rules{"a longer string": deeper, "more reach": further, "less yield": lessYield, "a sharper bit": wet}
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
