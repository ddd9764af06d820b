package trust_test

import (
	"math"
	"testing"

	"waterstrike/advisor/trust"
)

// normal is the standard Normal as two hundred equally likely values.
func normal() trust.Forecast {
	f := make(trust.Forecast, 200)
	for i := range f {
		f[i] = math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/200-1)
	}
	return f
}

// The score of a Normal at its mean is (√2 - 1)/√π = 0.2337 (Gneiting and Raftery 2007,
// eq. 21).
func TestCRPSOfNormal(t *testing.T) {
	want := (math.Sqrt2 - 1) / math.Sqrt(math.Pi)
	if got := normal().CRPS(0); math.Abs(got-want) > 1e-3 { // two hundred values for a curve
		t.Errorf("CRPS %.4f, want %.4f", got, want)
	}
	z := 1.3
	density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	want = z*(math.Erfc(-z/math.Sqrt2)-1) + 2*density - 1/math.Sqrt(math.Pi)
	if got := normal().CRPS(z); math.Abs(got-want) > 1e-3 {
		t.Errorf("CRPS at %v: %.4f, want %.4f", z, got, want)
	}
}

// By hand: of the values 1 and 3, E|X-y| at 4 is 2 and E|X-X'|/2 is 1/2.
func TestCRPSByHand(t *testing.T) {
	if got := (trust.Forecast{1, 3}).CRPS(4); got != 1.5 {
		t.Errorf("CRPS %v, want 1.5", got)
	}
	if got := (trust.Forecast{7}).CRPS(4.5); got != 2.5 {
		t.Errorf("CRPS of a single value is %v, want its error 2.5", got)
	}
}

func TestQuantilesAndPIT(t *testing.T) {
	f := trust.Forecast{1, 2, 3, 4}
	for _, c := range []struct{ p, want float64 }{{0.5, 2.5}, {0.125, 1}, {0.25, 1.5}, {0.01, 1}, {0.99, 4}} {
		if got := f.Quantile(c.p); math.Abs(got-c.want) > 1e-12 { // one interpolation
			t.Errorf("quantile %v is %v, want %v", c.p, got, c.want)
		}
	}
	for _, c := range []struct{ y, want float64 }{{0, 0}, {1, 0.125}, {2.5, 0.5}, {9, 1}} {
		if got := f.PIT(c.y); got != c.want {
			t.Errorf("PIT of %v is %v, want %v", c.y, got, c.want)
		}
	}
	if !f.Within(2, 0.5) || f.Within(3.9, 0.5) {
		t.Error("the middle half of 1 to 4 runs from 1.5 to 3.5")
	}
}
