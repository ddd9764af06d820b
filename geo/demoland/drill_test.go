package demoland_test

import (
	"math"
	"reflect"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/demoland"
)

func TestDrillAgreesWithTruth(t *testing.T) {
	for _, l := range lands() {
		for i, p := range l.VillageSites(150, 2) {
			for _, crew := range demoland.Crews() {
				on := day(2012+i%10, 1+(i*37)%365)
				h := l.Drill(p, crew, on)
				checkHole(t, l.Column(p), l.Level(p, on), crew, h)
				if !reflect.DeepEqual(h, l.Drill(p, crew, on)) {
					t.Fatal("the same crew, day and place found something else")
				}
			}
		}
	}
}

func checkHole(t *testing.T, c demoland.Column, rest float64, crew demoland.Crew, h demoland.Hole) {
	t.Helper()
	if h.DepthM > crew.Limits.MaxDepthM || h.Layers[len(h.Layers)-1].BaseM != h.DepthM {
		t.Errorf("%s drilled %v m, logged %v m", crew.Method, h.DepthM, h.Layers[len(h.Layers)-1].BaseM)
	}
	if refusal, ok := h.RefusalM.Get(); ok != (h.Outcome == geo.Refused || ok) || ok && refusal != h.DepthM {
		t.Errorf("%s: outcome %s with refusal %v at depth %v", crew.Method, h.Outcome, refusal, h.DepthM)
	}
	strike, wet := h.StrikeM.Get()
	if got, ok := h.RestM.Get(); ok && got != rest || ok && strike < rest {
		t.Errorf("%s: rest %v and strike %v where the level is %v", crew.Method, got, strike, rest)
	}
	switch h.Outcome {
	case geo.Dry:
		if wet || h.DepthM > c.NormalLowM && givesAbove(c, rest, h.DepthM-0.2) {
			t.Errorf("%s: dry at %v m with water at %v m", crew.Method, h.DepthM, rest)
		}
	case geo.Producing:
		if y := h.YieldLPS.Or(0); !wet || y < 0.12 {
			t.Errorf("%s: producing %v L/s", crew.Method, y)
		}
	case geo.BadWater:
		if h.DepthM <= c.SaltBelowM.Or(math.Inf(1)) {
			t.Errorf("%s: salt at %v m above the wedge", crew.Method, h.DepthM)
		}
	}
}

// givesAbove reports whether a layer between two depths lets water in.
func givesAbove(c demoland.Column, restM, depthM float64) bool {
	for _, l := range c.Layers {
		if l.GivesWater() && min(l.BaseM, depthM)-max(l.TopM, restM) > 0.1 {
			return true
		}
	}
	return false
}
