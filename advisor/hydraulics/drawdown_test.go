package hydraulics_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"waterstrike/advisor/hydraulics"
)

// The specific-capacity case was solved by fixed point with scipy 1.10.1: 48 m²/d after
// 0.25 d in a 0.1 m well with S = 1e-3 gives T = 57.2376151684 m²/d.
func TestNeededTAgainstFixedPoint(t *testing.T) {
	duty := hydraulics.Duty{DischargeM3D: 48, Days: 0.25, Storage: 1e-3, RadiusM: 0.1, Efficiency: 1}
	got, err := hydraulics.NeededT(duty, 1)
	if err != nil {
		t.Fatal(err)
	}
	const tol = 1e-5 * 57 // the bisection ends at a relative 1e-6
	if want := 57.2376151684; math.Abs(got-want) > tol {
		t.Errorf("T = %.6f, want %.6f", got, want)
	}
}

// Kruseman and de Ridder's test at 30 m, from memory: Q 788 m³/d, T 385, S 1.7e-4,
// slope 0.375 m per log cycle of time.
func TestDrawdownSlopePerCycle(t *testing.T) {
	at := func(days float64) float64 {
		s, err := hydraulics.Drawdown(hydraulics.Duty{DischargeM3D: 788, Days: days, Storage: 1.7e-4, RadiusM: 30, Efficiency: 1}, 385, 1, 1)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	if slope := at(0.1) - at(0.01); math.Abs(slope-0.375) > 0.001 { // printed to 3 digits
		t.Errorf("slope %.4f m per cycle, want 0.375", slope)
	}
}

func TestDrawdownLaws(t *testing.T) {
	duty := hydraulics.HandPump(150)
	last := math.Inf(1)
	for tr := 0.1; tr < 1000; tr *= 1.5 {
		s, err := hydraulics.Drawdown(duty, tr, 3, 3)
		if err != nil {
			t.Fatal(err)
		}
		if s > last {
			t.Errorf("drawdown rises from %v to %v m as T rises to %v", last, s, tr)
		}
		part, err := hydraulics.Drawdown(duty, tr, 2, 8)
		if err != nil || part < s {
			t.Errorf("T %v: a part screen draws down %v m, a full one %v m (%v)", tr, part, s, err)
		}
		last = s
	}
}

func TestDrawdownRefusesNonsense(t *testing.T) {
	for _, tr := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := hydraulics.Drawdown(hydraulics.HandPump(150), tr, 3, 3); !errors.Is(err, hydraulics.ErrDomain) {
			t.Errorf("T %v: error %v, want ErrDomain", tr, err)
		}
	}
}

// A share of a discharge is in [0,1], without a screen 0.
func TestPenetrationIsAShare(t *testing.T) {
	last := 0.0
	for _, length := range []float64{0, 0.01, 0.5, 1, 3, 6, 8, 12} {
		p := hydraulics.Penetration(length, 8, 0.075)
		if !(p >= last && p <= 1) {
			t.Errorf("a screen of %v m in 8 m of sand gives %v of the full discharge, a shorter one %v", length, p, last)
		}
		last = p
	}
	if first := hydraulics.Penetration(0, 8, 0.075); first != 0 || last != 1 {
		t.Errorf("no screen gives %v, a full one %v", first, last)
	}
}

func ExampleDrawdown() {
	s, _ := hydraulics.Drawdown(hydraulics.HandPump(150), 10, 3, 3)
	fmt.Printf("%.1f m\n", s)
	// Output: 2.3 m
}
