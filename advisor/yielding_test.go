package advisor

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/strata"
	"waterstrike/geo/soil"
)

// The bands together pass as often as draws of the region's conductivity and of the layer
// do: a Normal of both variances.
func TestBandsPassAsOftenAsTheWhole(t *testing.T) {
	for _, y := range []yielding{{1, 0, 0.5}, {2, 0.6, 1}, {3, 1.5, 1.5}, {1, 0.7, 0.7}} {
		region, layer := y.decades()
		for _, enough := range []float64{0.03, 0.2, 0.7, 1, 2, 10} {
			want := normalCDF(math.Log10(enough) / math.Hypot(region, layer))
			p := y.passes(enough)
			// The middles of four slices stand for a Normal.
			if got := mean(p); math.Abs(got-want) > 0.01 {
				t.Errorf("%+v, %v times enough: %.4f, want %.4f", y, enough, got, want)
			}
			if p[0] > p[bands-1] {
				t.Errorf("%+v: the poorest band passes more often than the best: %v", y, p)
			}
		}
	}
}

// What lies between two depths is the sum of its cells, each by how much of it lies there.
func TestBetweenAddsUp(t *testing.T) {
	g := groundOf(t, soil.Clay, 3.0, soil.Sand, 2.0, soil.Clay, 1.0, soil.Gravel, 30.0)
	sand := soil.ConductivityOf(soil.Sand, soil.Medium, false).MetresPerDay()
	gravel := soil.ConductivityOf(soil.Gravel, soil.Medium, false).MetresPerDay()
	for _, tt := range []struct {
		topM  float64
		baseM float64
		want  float64
	}{{0, 3, 0}, {3, 5, 2 * sand}, {3.2, 5, 1.8 * sand}, {4.75, 6.5, 0.25*sand + 0.5*gravel}, {2.9, 3.5, 0.5 * sand}} {
		if got := g.between(tt.topM, int(tt.baseM/strata.CellM)).t; math.Abs(got-tt.want) > 1e-9 { // rounding
			t.Errorf("%v to %v m: %v m2/d, want %v", tt.topM, tt.baseM, got, tt.want)
		}
	}
}

// What the duty needs between two tabulated drawdowns is what it needs, to a hundredth:
// checked against the solution itself.
func TestNeededBetweenTheTable(t *testing.T) {
	d := drillerOf(t, "auger")
	rng := rand.New(rand.NewPCG(71, 72))
	for range 50 {
		allowed := 0.5 + 15*rng.Float64()
		want, err := hydraulics.NeededT(hydraulics.HandPump(d.HoleMM), allowed)
		if err != nil {
			t.Fatal(err)
		}
		if got := 1 / d.perNeededT(allowed); math.Abs(got/want-1) > 0.01 {
			t.Errorf("%v m: %v m2/d, want %v", allowed, got, want)
		}
	}
	if got := d.perNeededT(-1); got != 0 {
		t.Errorf("no drawdown allowed: %v of what is needed", got)
	}
}
