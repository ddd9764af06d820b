package hydraulics_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/hydraulics"
)

// On a straight line the derivative is its slope, everywhere.
func TestDerivativeOfLine(t *testing.T) {
	slope := must[[]hydraulics.Point](t)(hydraulics.Derivative(timeLine(0.375, 0.25, 1, 1.5, 2, 3, 5, 8, 13, 20, 40)))
	for _, p := range slope {
		near(t, "slope", p.Y, 0.375/math.Ln10, 1e-9)
	}
	if len(slope) < 6 {
		t.Errorf("%d of nine readings have a slope", len(slope))
	}
	if _, err := hydraulics.Derivative(timeLine(1, 0.1, 1, 1.01, 1.02)); !errors.Is(err, hydraulics.ErrTooFew) {
		t.Errorf("readings all at once: %v", err)
	}
}

// On Theis' curve it is Q/(4πT) e⁻ᵘ.
func TestDerivativeOfTheis(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	readings := theisReadings(t, a, 25, 6, 0.001, 1, 70, 0, rand.New(rand.NewPCG(1, 1)))
	for _, p := range must[[]hydraulics.Point](t)(hydraulics.Derivative(readings)) {
		u := 36 * 2e-3 / (4 * 12 * p.X)
		if u > 0.3 {
			continue // the curve turns within the span of the derivative
		}
		near(t, "slope", p.Y, 25/(4*math.Pi*12)*math.Exp(-u), 0.03) // half a span of 0.3 in ln t
	}
}

func TestCurves(t *testing.T) {
	a := hydraulics.Aquifer{TM2D: 12, Storage: 2e-3}
	readings := theisReadings(t, a, 25, 6, 0.001, 1, 30, 0.005, rand.New(rand.NewPCG(1, 1)))
	p := hydraulics.Pumping{DischargeM3D: 25, DistanceM: 6}
	f := must[hydraulics.Fit](t)(hydraulics.FitCooperJacob(p, readings))
	curves := must[[]hydraulics.Curve](t)(hydraulics.Curves(p, f, 1e-3, readings))
	got := map[hydraulics.CurveName][]hydraulics.Point{}
	for _, c := range curves {
		got[c.Name] = c.Points
	}
	if len(got[hydraulics.CurveReadings]) != 30 || len(got[hydraulics.CurveUsed]) != len(f.Used) || len(got[hydraulics.CurveDerivative]) == 0 {
		t.Errorf("%d readings, %d used, %d slopes", len(got[hydraulics.CurveReadings]), len(got[hydraulics.CurveUsed]), len(got[hydraulics.CurveDerivative]))
	}
	model, low, high := got[hydraulics.CurveModel], got[hydraulics.CurveLow], got[hydraulics.CurveHigh]
	for i := range model {
		s := must[float64](t)(hydraulics.Theis(f.Aquifer(0), 25, 6, model[i].X))
		near(t, "model", model[i].Y, s, 1e-12)
		if i > 0 && (model[i].X <= model[i-1].X || model[i].Y < model[i-1].Y) {
			t.Errorf("the model falls or goes back at %d", i)
		}
	}
	if last := len(model) - 1; low[last].Y <= model[last].Y || high[last].Y >= model[last].Y {
		t.Errorf("at the end: %v at low T, %v, %v at high T", low[last].Y, model[last].Y, high[last].Y)
	}
	p.OpenRadiusM, p.DistanceM = 0.05, 0.075
	well := must[[]hydraulics.Curve](t)(hydraulics.Curves(p, f, 1e-3, readings))
	s := must[float64](t)(hydraulics.StoredWell(f.Aquifer(0), hydraulics.Well{RadiusM: 0.075, OpenRadiusM: 0.05}, 25, well[2].Points[0].X))
	near(t, "pumped well", well[2].Points[0].Y, s, 1e-12)
	if _, err := hydraulics.Curves(p, f, 1e-3, readings[:1]); !errors.Is(err, hydraulics.ErrTooFew) {
		t.Errorf("one reading: %v", err)
	}
}
