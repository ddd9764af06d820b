package strata

import (
	"math"
	"testing"

	"waterstrike/geo/soil"
)

// halves are a model of twenty logs of clay and ten of sand, and those around a place.
func halves(t *testing.T) (*Model, []Near) {
	t.Helper()
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
	return m, around(0, 0)
}

// What a crew will call the ground is told with a power of its own: with none as if nothing
// were sharpened, with that of the columns as they are.
func TestNamedIsLessSharp(t *testing.T) {
	m, here := halves(t)
	m.sharp, m.namedBy = 0, 0
	blunt := m.At(here, nil).Odds
	m.sharp = 0.1
	s := m.At(here, nil)
	if s.Named() != blunt {
		t.Error("without a power for names they are sharpened")
	}
	m.namedBy = m.sharp
	if again := m.At(here, nil); again.Named() != s.Odds || again.Odds != s.Odds {
		t.Error("with the power of the columns names differ from them")
	}
	m.namedBy = 0.05
	between := m.At(here, nil).Named()
	for z, p := range between[:20] {
		if clay := soil.Clay - 1; p[clay] <= blunt[z][clay] || p[clay] >= s.Odds[z][clay] {
			t.Fatalf("cell %d: clay is named with %v, in columns %v, before %v", z, p[clay], s.Odds[z][clay], blunt[z][clay])
		}
	}
	if s.Given(Seen{}).Named() != s.Given(Seen{}).Odds {
		t.Error("of a hole under way the names are not those of its columns")
	}
}

// Sharpened odds add up to 1, favour what was likely, and are the same under a power of 0
// or where only the region speaks.
func TestSharpened(t *testing.T) {
	m, here := halves(t)
	m.sharp = 0
	blunt := m.At(here, nil).Odds
	for _, power := range []float64{0, 0.02, 0.1} {
		m.sharp = power
		if m.At(nil, nil).Odds != m.Profile() {
			t.Errorf("power %v: far from all logs the statement is not the profile", power)
		}
		for z, odds := range m.At(here, nil).Odds {
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
