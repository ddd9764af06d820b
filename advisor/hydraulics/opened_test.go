package hydraulics_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo/soil"
)

// One interval has its own K times its thickness.
func TestTransmissivityOfOne(t *testing.T) {
	var c *hydraulics.Conductivities
	b := must[hydraulics.TBelief](t)(c.Transmissivity([]hydraulics.Interval{{Material: material(soil.Sand, soil.Coarse), ThickM: 3}}))
	near(t, "log10 T", b.Log10M2D, math.Log10(3*44.7), 1e-9)
	near(t, "sd", b.SDDecades, 0.5, 1e-9)
	near(t, "chance of the middle", b.Passes(3*44.7), 0.5, 1e-9)
	if b.Passes(math.Inf(1)) != 0 || b.Passes(0) != 1 {
		t.Error("an endless need passes, or none does not")
	}
	for name, open := range map[string][]hydraulics.Interval{"none": nil, "of no thickness": {{Material: material(soil.Sand, soil.Coarse)}}} {
		if _, err := c.Transmissivity(open); err == nil {
			t.Errorf("%s: an answer", name)
		}
	}
	if _, err := c.Transmissivity(nil); !errors.Is(err, hydraulics.ErrTooFew) {
		t.Errorf("none: %v", err)
	}
}

// Sums of 20,000 draws pass as often as is said, within five points: the sum is not quite
// log-normal.
func TestTransmissivityAgainstDraws(t *testing.T) {
	open := []hydraulics.Interval{
		{Material: material(soil.Sand, soil.Coarse), ThickM: 1},
		{Material: material(soil.Sand, soil.Medium), ThickM: 3},
		{Material: material(soil.Sand, soil.Fine), ThickM: 2},
	}
	var c *hydraulics.Conductivities
	b := must[hydraulics.TBelief](t)(c.Transmissivity(open))
	rng := rand.New(rand.NewPCG(17, 18))
	const draws = 20000
	for _, needed := range []float64{20, 50, 100, 200} {
		passed := 0
		for range draws {
			sum := 0.0
			for _, i := range open {
				k := soil.ConductivityOf(i.Class, i.Grade, i.Clayey)
				sum += i.ThickM * math.Pow(10, k.Log10MPerS+k.SDDecades*rng.NormFloat64()) * 86400
			}
			if sum >= needed {
				passed++
			}
		}
		if said, found := b.Passes(needed), float64(passed)/draws; math.Abs(said-found) > 0.05 {
			t.Errorf("%v m²/d: said %.3f, drawn %.3f", needed, said, found)
		}
	}
}
