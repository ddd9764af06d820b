package hydraulics_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// No fit of whatever readings gives a number that is none without an error: JSON refuses
// NaN and infinities wherever they hide.
func TestFitsAreFinite(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	odd := []float64{0, -1, math.NaN(), math.Inf(1), 1e-308, 1e308, 1e-12, 1e12}
	size := func() float64 {
		if rng.IntN(12) == 0 {
			return odd[rng.IntN(len(odd))]
		}
		return math.Pow(10, -4+6*rng.Float64())
	}
	answers := 0
	check := func(name string, v any, err error) {
		t.Helper()
		if err != nil {
			return
		}
		answers++
		if _, err := json.Marshal(v); err != nil {
			t.Fatalf("%s gives %+v without an error", name, v)
		}
	}
	for range 1500 {
		n := rng.IntN(12)
		readings, places, steps := make([]hydraulics.Reading, n), make([]hydraulics.Place, n), make([]hydraulics.Step, n)
		days := 1e-3
		for i := range n {
			days *= 1 + 2*rng.Float64()
			readings[i] = hydraulics.Reading{Days: days, DrawdownM: size()}
			places[i], steps[i] = hydraulics.Place{DistanceM: size(), DrawdownM: size()}, hydraulics.Step{DischargeM3D: size(), DrawdownM: size()}
		}
		p := hydraulics.Pumping{DischargeM3D: size(), DistanceM: size(), OpenRadiusM: float64(rng.IntN(2)) * 0.05}
		s := hydraulics.Stopped{Pumping: p, PumpedDays: size(), Storage: size()}
		f, err := hydraulics.FitCooperJacob(p, readings)
		check("FitCooperJacob", f, err)
		if err == nil {
			c, err := hydraulics.Curves(p, f, size(), readings)
			check("Curves", c, err)
		}
		f, err = hydraulics.FitRecovery(s, readings)
		check("FitRecovery", f, err)
		if err == nil {
			c, err := hydraulics.RecoveryCurves(s, f, readings)
			check("RecoveryCurves", c, err)
		}
		if rng.IntN(10) == 0 {
			f, err = hydraulics.FitTheis(size(), []hydraulics.Series{{DistanceM: size(), Readings: readings}})
			check("FitTheis", f, err)
			b := hydraulics.Bailed{Well: hydraulics.Well{RadiusM: size(), OpenRadiusM: size()}, VolumeL: size(), Minutes: size()}
			rise, err := hydraulics.Bail(hydraulics.Aquifer{TM2D: size(), Storage: size()}, b)
			check("Bail", rise, err)
			e, err := hydraulics.FitBailer(b, hydraulics.Timed{HalfMin: geo.Some(size()), ThreeQMin: geo.Some(size())})
			check("FitBailer", e, err)
			r, err := hydraulics.FitRorabaugh(steps)
			check("FitRorabaugh", r, err)
		}
		f, err = hydraulics.FitDistance(size(), size(), places)
		check("FitDistance", f, err)
		f, err = hydraulics.FitThiem(size(), places)
		check("FitThiem", f, err)
		slug, err := hydraulics.FitSlug(size(), readings)
		check("FitSlug", slug, err)
		step, err := hydraulics.FitSteps(steps)
		check("FitSteps", step, err)
		d, err := hydraulics.Derivative(readings)
		check("Derivative", d, err)
	}
	if answers < 500 {
		t.Errorf("only %d answers: the readings are too odd to try anything", answers)
	}
}

// An error says what is wrong, with the number, and what to do.
func TestErrorsSayWhatToDo(t *testing.T) {
	_, wrong := hydraulics.Theis(hydraulics.Aquifer{TM2D: -3, Storage: 1e-3}, 1, 1, 1)
	_, early := hydraulics.CooperJacob(hydraulics.Aquifer{TM2D: 1, Storage: 0.1}, 1, 10, 1)
	_, note := hydraulics.ReadBuckets("many")
	for _, c := range []struct {
		err  error
		says []string
	}{
		{wrong, []string{"transmissivity is -3", "above 0"}}, {early, []string{"u = 2.5", "pump longer"}}, {note, []string{`"many"`, "12 x 20 L"}},
	} {
		for _, word := range c.says {
			if c.err == nil || !strings.Contains(c.err.Error(), word) {
				t.Errorf("%v does not say %q", c.err, word)
			}
		}
	}
	var input *hydraulics.InputError
	if !errors.As(wrong, &input) || input.Value != -3 || !errors.Is(wrong, hydraulics.ErrDomain) {
		t.Errorf("%#v", wrong)
	}
}
