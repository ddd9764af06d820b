package strata

import (
	"math"
	"testing"

	"waterstrike/geo/soil"
)

// Sharpened odds add up to 1, favour what was likely, and are the same under a power of 0
// or where only the region speaks.
func TestSharpened(t *testing.T) {
	var logs []Log
	for i := range 30 {
		log := Log{Cells: make([]soil.Class, 20)}
		for z := range log.Cells {
			log.Cells[z] = []soil.Class{soil.Clay, soil.Sand}[i/20]
		}
		logs = append(logs, log)
	}
	around := func(int, float64) (out []Near) {
		for _, log := range logs[:24] {
			out = append(out, Near{Log: log, DistanceM: 200})
		}
		return out
	}
	m, _, err := Fit(t.Context(), logs, around)
	if err != nil {
		t.Fatal(err)
	}
	m.sharp = 0
	blunt := m.At(around(0, 0), nil).Odds
	for _, power := range []float64{0, 0.02, 0.1} {
		m.sharp = power
		if m.At(nil, nil).Odds != m.Profile() {
			t.Errorf("power %v: far from all logs the statement is not the profile", power)
		}
		for z, odds := range m.At(around(0, 0), nil).Odds {
			sum := 0.0
			for _, p := range odds {
				sum += p
			}
			sharper := odds[soil.Clay-1] > blunt[z][soil.Clay-1]
			if math.Abs(sum-1) > 1e-12 || power == 0 && odds != blunt[z] || power > 0 && z < 20 && !sharper {
				t.Fatalf("power %v, cell %d: %v were %v", power, z, odds, blunt[z])
			}
		}
	}
}
