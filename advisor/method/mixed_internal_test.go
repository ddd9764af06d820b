package method

import (
	"math"
	"testing"
)

// Travel times of ultrasonic waves in six rails, three readings each: data set Rail of
// R package nlme 3.1-162 (Pinheiro and Bates 2000), which R 4.2.2 printed. The fit of
// `lme(travel ~ 1, random = ~ 1 | Rail)` by restricted likelihood, from the same run:
// standard deviations 24.805465 between and 4.020779 within rails, mean 66.5.
func TestMixedAgainstNLME(t *testing.T) {
	rails := [][]float64{{55, 53, 54}, {26, 37, 32}, {78, 91, 85}, {92, 100, 96}, {49, 51, 50}, {80, 85, 83}}
	ranef := []float64{-12.39148, -34.53091, 18.00894, 29.24388, -16.35675, 16.02631}
	const between, within, mean = 24.805465, 4.020779, 66.5
	flat := 1e9 // a prior this wide integrates the mean out as restricted likelihood does
	d := mixed{prior: []float64{flat}}
	for i, readings := range rails {
		for _, y := range readings {
			d.add(i, 0, y)
		}
	}
	at := func(b, w float64) float64 {
		_, l := d.at(b*b, w*w)
		return l
	}
	top := at(between, within)
	for _, step := range []float64{0.997, 1.003} { // the likelihood is flat: 0.3 % is where it shows
		if at(between*step, within) > top || at(between, within*step) > top {
			t.Errorf("the likelihood is higher at %v times the optimum of nlme", step)
		}
	}
	s, _ := d.at(between*between, within*within)
	if math.Abs(s.mean[0]-mean) > 1e-4 {
		t.Errorf("mean %v, want %v", s.mean[0], mean)
	}
	for i, want := range ranef {
		got, _ := s.at(&d, i, 0, 0)
		if math.Abs(got-s.mean[0]-want) > 2e-3 { // five figures of the variances are given
			t.Errorf("rail %d: effect %v, nlme %v", i+1, got-s.mean[0], want)
		}
	}
	// Its log-likelihoods of REML differ from those of ours by a constant: between two
	// points they must agree. REML at (20, 5) from the formula of Searle, Casella and
	// McCulloch (1992) for balanced data: -½[(a-1) ln λ + a(n-1) ln σ² + SSA/λ + SSE/σ²]
	// with λ = σ² + nτ²; SSA = 9310.5 and SSE = 194 are the sums of squares of these data.
	balanced := func(b, w float64) float64 {
		lambda := w*w + 3*b*b
		return -(5*math.Log(lambda) + 12*math.Log(w*w) + 9310.5/lambda + 194/(w*w)) / 2
	}
	if got, want := at(20, 5)-top, balanced(20, 5)-balanced(between, within); math.Abs(got-want) > 1e-6 {
		t.Errorf("likelihood falls by %v, want %v", got, want)
	}
}

// Without readings the posterior is the prior.
func TestMixedWithoutReadings(t *testing.T) {
	p := (&mixed{}).fit()
	mean, variance := p.at(-1, -1, 0.5)
	if mean != 0 || math.Abs(variance-0.5-2*usualVariance) > 0.01 {
		t.Errorf("mean %v, variance %v", mean, variance)
	}
}
