package trust

import (
	"math"
	"sort"
)

// Forecast is a statement about a number: equally likely values, in rising order. A single
// value is a statement without a range.
type Forecast []float64

// steps is how many equally likely values stand for a distribution: its score is then
// right to a thousandth.
const steps = 200

// forecastOf takes a distribution by its quantiles.
func forecastOf(quantile func(p float64) float64) Forecast {
	f := make(Forecast, steps)
	for i := range f {
		f[i] = quantile((float64(i) + 0.5) / steps)
	}
	return f
}

// Quantile returns the value that the number stays below with probability p.
//
//   - Units: p in (0,1); result in the forecast's unit.
//   - Domain: at least one value; outside the values the outermost one.
//   - Source: Hyndman and Fan (1996), definition 5.
func (f Forecast) Quantile(p float64) float64 {
	at := p*float64(len(f)) - 0.5
	low := int(min(max(math.Floor(at), 0), float64(len(f)-1)))
	high := min(low+1, len(f)-1)
	return f[low] + min(max(at-float64(low), 0), 1)*(f[high]-f[low])
}

// Mean is the mean of the values.
func (f Forecast) Mean() float64 {
	sum := 0.0
	for _, v := range f {
		sum += v
	}
	return sum / float64(len(f))
}

// CRPS is the continuous ranked probability score, 0 at best,
//
//	E|X - y| - E|X - X'|/2,
//
// which for a single value is the absolute error.
//
//   - Units: those of the forecast.
//   - Domain: at least one value, in rising order.
//   - Source: Gneiting and Raftery (2007), eq. 21.
func (f Forecast) CRPS(y float64) float64 {
	n := float64(len(f))
	off, spread := 0.0, 0.0
	for i, v := range f {
		off += math.Abs(v - y)
		spread += v * (2*float64(i) + 1 - n) // each pair once, by rank
	}
	return off/n - spread/(n*n)
}

// PIT is the probability that was given to values below y, values equal to y by half.
//
//   - Units: a probability.
//   - Source: Dawid (1984); the half for ties is the mean of the randomised form.
func (f Forecast) PIT(y float64) float64 {
	below := sort.SearchFloat64s(f, y)
	upTo := sort.Search(len(f), func(i int) bool { return f[i] > y })
	return float64(below+upTo) / 2 / float64(len(f))
}

// Within reports that y lies in the middle range of a probability.
func (f Forecast) Within(y, share float64) bool {
	return y >= f.Quantile((1-share)/2) && y <= f.Quantile((1+share)/2)
}
