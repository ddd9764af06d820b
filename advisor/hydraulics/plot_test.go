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

// The line of the fit runs through its readings, meets 0 at t/t′ = 1 where nothing
// displaced it, and is steeper for a lower T.
func TestRecoveryCurves(t *testing.T) {
	s := hydraulics.Stopped{Pumping: hydraulics.Pumping{DischargeM3D: 50, DistanceM: 5}, PumpedDays: 0.25, Storage: 1e-3}
	var readings []hydraulics.Reading
	for days := 0.02; days < 0.3; days *= 1.3 {
		left := must[float64](t)(hydraulics.Recovery(hydraulics.Aquifer{TM2D: 30, Storage: 1e-3}, 50, 5, 0.25, days))
		readings = append(readings, hydraulics.Reading{Days: days, DrawdownM: left})
	}
	f := must[hydraulics.Fit](t)(hydraulics.FitRecovery(s, readings))
	curves := must[[]hydraulics.Curve](t)(hydraulics.RecoveryCurves(s, f, readings))
	line := curves[2].Points
	if math.Abs(line[0].Y) > 0.01 || line[0].X != 1 {
		t.Errorf("the line begins at %+v", line[0])
	}
	near(t, "first reading", line[1].Y, curves[0].Points[0].Y, 0.02) // u is not quite 0 there
	if low, high := curves[3].Points, curves[4].Points; low[1].Y <= line[1].Y || high[1].Y >= line[1].Y {
		t.Errorf("ends of the range: %v, %v about %v", low[1].Y, high[1].Y, line[1].Y)
	}
	if _, err := hydraulics.RecoveryCurves(s, hydraulics.Fit{T: f.T}, readings); !errors.Is(err, hydraulics.ErrTooFew) {
		t.Errorf("a fit of nothing: %v", err)
	}
}

func TestStepCurves(t *testing.T) {
	f := must[hydraulics.StepFit](t)(hydraulics.FitSteps(clark()))
	curves := must[[]hydraulics.Curve](t)(hydraulics.StepCurves(f, clark()))
	model := curves[1].Points
	if len(curves[0].Points) != 6 || model[0].Y != f.B.Value || model[len(model)-1].X != 5019 {
		t.Errorf("%d readings, model from %+v to %+v", len(curves[0].Points), model[0], model[len(model)-1])
	}
	near(t, "last step", model[len(model)-1].Y, 20.01/5019, 0.002) // to the centimetre
}

// The line runs through places that lie on one, meets nothing where they do, and is steeper
// for a lower T; the ends of the range meet it in the middle.
func TestDistanceCurves(t *testing.T) {
	places := distanceLine(0.78, 450, 3, 30, 90, 215) // Kruseman and de Ridder's line after 140 min, from memory
	f := must[hydraulics.Fit](t)(hydraulics.FitThiem(788, places))
	curves := must[[]hydraulics.Curve](t)(hydraulics.DistanceCurves(788, f, places))
	model, low, high := curves[2].Points, curves[3].Points, curves[4].Points
	near(t, "nearest", model[0].Y, places[0].DrawdownM, 1e-9)
	near(t, "farthest", model[1].Y, places[3].DrawdownM, 1e-9)
	if low[0].Y <= model[0].Y || high[0].Y >= model[0].Y || low[1].Y >= model[1].Y || high[1].Y <= model[1].Y {
		t.Errorf("ends of the range %v and %v about %v", low, high, model)
	}
	if _, err := hydraulics.DistanceCurves(788, f, places[:2]); !errors.Is(err, hydraulics.ErrTooFew) {
		t.Errorf("two places: %v", err)
	}
}

// The line gives the shares that the readings were made of; nothing left is not drawn.
func TestSlugCurves(t *testing.T) {
	var readings []hydraulics.Reading
	for i := 1; i < 30; i++ {
		readings = append(readings, hydraulics.Reading{Days: float64(i) / 1440, DrawdownM: 0.8 * math.Exp(-float64(i)/8)})
	}
	readings = append(readings, hydraulics.Reading{Days: 1, DrawdownM: 0})
	f := must[hydraulics.SlugFit](t)(hydraulics.FitSlug(0.8, readings))
	curves := must[[]hydraulics.Curve](t)(hydraulics.SlugCurves(0.8, f, readings))
	if len(curves[0].Points) != 29 || len(curves[1].Points) != len(f.Used) {
		t.Errorf("%d readings and %d used", len(curves[0].Points), len(curves[1].Points))
	}
	for _, p := range curves[2].Points {
		near(t, "share left", p.Y, math.Exp(-p.X*1440/8), 1e-9)
	}
	if last := curves[3].Points[1].Y; last <= curves[2].Points[1].Y {
		t.Errorf("a lower rate leaves %v", last)
	}
	if _, err := hydraulics.SlugCurves(0.8, hydraulics.SlugFit{RatePerDay: f.RatePerDay}, readings); !errors.Is(err, hydraulics.ErrTooFew) {
		t.Errorf("a fit of nothing: %v", err)
	}
}
