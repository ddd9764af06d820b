package advisor

import "math"

// How finely the Normal distribution is tabulated, and how far out.
const (
	normalPer = 32 // entries in a standard deviation
	normalEnd = 6  // beyond, at most 1e-9 is left
)

// normals holds the distribution and its density at equal steps.
var normals = func() (out [2*normalEnd*normalPer + 1]struct{ cdf, density float64 }) {
	for i := range out {
		z := float64(i)/normalPer - normalEnd
		out[i].cdf = math.Erfc(-z/math.Sqrt2) / 2
		out[i].density = math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	}
	return out
}()

// normalCDF returns the chance of a standard Normal below z, to 3e-7, from the nearest entry
// of the table by the first terms of Taylor's series: an ensemble asks for it thousands of
// times.
//
//   - Domain: any z, infinite ones too.
//   - Checked by: TestNormalCDF, BenchmarkNormalCDF.
func normalCDF(z float64) float64 {
	switch {
	case z >= normalEnd:
		return 1
	case z <= -normalEnd:
		return 0
	}
	at := &normals[int((z+normalEnd)*normalPer+0.5)]
	from := math.Round(z*normalPer) / normalPer
	d := z - from
	return at.cdf + at.density*d*(1-from*d/2)
}
