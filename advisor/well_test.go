package advisor

import (
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// groundOf builds a ground from class, metres pairs, the last class going on to the end.
func groundOf(t *testing.T, parts ...any) *ground {
	t.Helper()
	b := evidence.Bore{}
	top := float32(0)
	for i := 0; i < len(parts); i += 2 {
		base := top + float32(parts[i+1].(float64))
		if i+2 == len(parts) {
			base = strata.Cells * strata.CellM
		}
		b.Layers = append(b.Layers, evidence.Layer{TopM: top, BaseM: base, Class: parts[i].(soil.Class), Grade: soil.Medium})
		top = base
	}
	var classes strata.Column
	copy(classes[:], logOf(&b).Cells)
	return newGrader([]evidence.Near{{Bore: &b}}, nil).ground(classes)
}

func drillerOf(t *testing.T, code geo.Method) *driller {
	t.Helper()
	list, err := method.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	m, ok := method.Find(list, code)
	if !ok {
		t.Fatalf("no method %q", code)
	}
	d, err := newDriller(m)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// What fails first in grounds that a person can judge by eye.
func TestTryJudgesByEye(t *testing.T) {
	tests := []struct {
		name   string
		method geo.Method
		ground []any
		lowM   float64
		works  bool
		fails  failure
	}{
		{"medium sand with water at 5 m", "sludging", []any{soil.Clay, 3.0, soil.Sand, 30.0}, 5, true, yieldTooLow},
		{"the same with an auger", "auger", []any{soil.Clay, 3.0, soil.Sand, 30.0}, 5, true, yieldTooLow},
		{"water below the auger's depth", "auger", []any{soil.Clay, 3.0, soil.Sand, 30.0}, 22, false, tooDeep},
		{"rock above the water", "percussion", []any{soil.Clay, 3.0, soil.Rock, 30.0}, 8, false, byRock},
		{"a crust in the way of the auger", "auger", []any{soil.Topsoil, 1.0, soil.Hardpan, 1.0, soil.Sand, 30.0}, 8, false, byHardpan},
		{"gravel above the water", "jetting", []any{soil.Sand, 2.0, soil.Gravel, 3.0, soil.Sand, 30.0}, 8, false, byGravel},
		{"nothing but clay", "sludging", []any{soil.Clay, 40.0}, 5, false, noLayer},
		{"sand only above where a seal leaves room", "sludging", []any{soil.Sand, 4.0, soil.Clay, 36.0}, 1, false, noRoomToSeal},
		{"weathered rock above rock, little water over it", "percussion", []any{soil.Clay, 6.0, soil.WeatheredRock, 2.0, soil.Rock, 30.0}, 6.0, false, byRock},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := drillerOf(t, tt.method).in(groundOf(t, tt.ground...)).at(tt.lowM, tt.lowM+0.5)
			if (r.chance() > 0.8) != tt.works || (r.chance() == 0) == tt.works {
				t.Errorf("works with %.2f, want %v", r.chance(), tt.works)
			}
			if r.fails != tt.fails {
				t.Errorf("fails by %s, want %s", r.fails.code(), tt.fails.code())
			}
		})
	}
}

// A well that works keeps every rule of construction.
func TestTryKeepsTheRules(t *testing.T) {
	g := groundOf(t, soil.Clay, 3.0, soil.Sand, 30.0)
	for _, code := range []geo.Method{"auger", "percussion", "sludging", "rotary-sludging", "jetting"} {
		d := drillerOf(t, code)
		for low := 0.0; low < 20; low += 0.5 {
			r := d.in(g).at(low, low+0.5)
			if r.chance() == 0 {
				continue
			}
			if r.topM < low+0.5-1e-9 || r.topM < highestScreenM-strata.CellM {
				t.Errorf("%s, water at %v: screen from %v m", code, low, r.topM)
			}
			if r.bottomM > d.MaxDepthM || r.bottomM > g.strike(low)+d.BelowWaterM {
				t.Errorf("%s, water at %v: bottom at %v m", code, low, r.bottomM)
			}
			if length := r.baseM - r.topM; length < screenMinM || length > longestM {
				t.Errorf("%s, water at %v: %v m of screen", code, low, length)
			}
		}
	}
}

// Deeper water never makes a hole of limited depth more likely to work, all else equal,
// once it stands below the seal; among holes that surely work it may call for a longer
// screen, which gives more.
func TestDeeperWaterIsNoBetter(t *testing.T) {
	g := groundOf(t, soil.Clay, 3.0, soil.Sand, 37.0)
	d := drillerOf(t, "jetting")
	last := 1.0
	for low := 4.0; low < 25; low += 0.5 {
		r := d.in(g).at(low, low+0.5)
		if r.chance() > last+1e-12 && last < surely {
			t.Errorf("water at %v m works with %v, %v a step above", low, r.chance(), last)
		}
		last = r.chance()
	}
}
