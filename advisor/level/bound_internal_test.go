package level

import (
	"math"
	"testing"
)

// The datum of a bound moves a Normal to the mean and variance that it has under the bound,
// by numerical integration of
//
//	((1-ε) P(lo < z + error < hi) + ε) N(z; mean, v).
func TestBoundDatumByIntegration(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		mean, v float64
		bound   interval
	}{
		{1, 0.2, interval{1.5, inf, 0}},
		{1, 0.2, interval{-inf, 0.8, 0}},
		{1, 0.2, interval{1.2, 1.4, 0}},
		{1, 0.2, interval{1.2, 1.6, 0.04}},
		{2, 1, interval{0.5, 1, 0.1}},
		{1, 0.2, interval{-inf, 1.3, 0.02}},
	} {
		const steps = 200000
		s := math.Sqrt(c.v)
		mass, first, second := 0.0, 0.0, 0.0
		for i := range steps {
			z := c.mean + s*(-9+18*(float64(i)+0.5)/steps)
			within := 0.0
			if e := math.Sqrt(c.bound.errVar); e > 0 {
				within = math.Erfc((c.bound.lo-z)/e/math.Sqrt2)/2 - math.Erfc((c.bound.hi-z)/e/math.Sqrt2)/2
			} else if c.bound.lo < z && z < c.bound.hi {
				within = 1
			}
			w := ((1-boundError)*within + boundError) * math.Exp(-(z-c.mean)*(z-c.mean)/c.v/2)
			mass, first, second = mass+w, first+w*z, second+w*z*z
		}
		mean := first / mass
		variance := second/mass - mean*mean
		value, errVar, informs := boundDatum(c.mean, c.v, c.bound)
		if informs != (variance < c.v) {
			t.Errorf("%+v: informs %v, variance %.4f", c, informs, variance)
		}
		if !informs {
			continue
		}
		gain := c.v / (c.v + errVar)
		if got := c.mean + gain*(value-c.mean); math.Abs(got-mean) > 1e-3 || math.Abs(c.v*(1-gain)-variance) > 1e-3 {
			t.Errorf("%+v: mean %.4f, variance %.4f; want %.4f, %.4f", c, got, c.v*(1-gain), mean, variance)
		}
	}
}
