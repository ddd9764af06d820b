package hydraulics

import "math"

// eulerGamma is Euler's constant.
const eulerGamma = 0.57721566490153286061

// W returns the well function, the exponential integral
//
//	W(u) = ∫ᵤ^∞ e⁻ˣ/x dx.
//
// It is summed as a series below 1 and as a continued fraction above.
//
//   - Units: dimensionless.
//   - Domain: u finite and above 0; beyond 745 the result is under the least float and 0.
//   - Errors: [InputError].
//   - Cost: under 100 terms, no allocation.
//   - Source: Theis (1935); Abramowitz and Stegun (1964), 5.1.11 and 5.1.22; the fraction
//     is evaluated as by Lentz (1976).
//   - Checked by: TestWAgainstTable, TestWAgainstWenzel, TestWLaws.
func W(u float64) (float64, error) {
	if err := positive(named{"u", u}); err != nil {
		return 0, err
	}
	return wellFunction(u), nil
}

func wellFunction(u float64) float64 {
	if u < 1 {
		return wSeries(u)
	}
	return wFraction(u)
}

func wSeries(u float64) float64 {
	sum, term := -eulerGamma-math.Log(u), -1.0
	for k := 1.0; k < 40; k++ {
		term *= -u / k
		sum += term / k
		if math.Abs(term) < 1e-18 {
			break
		}
	}
	return sum
}

func wFraction(u float64) float64 {
	const ulp = 1e-16
	b := u + 1
	d := 1 / b
	c, h := math.Inf(1), d
	for i := 1.0; i < 200; i++ {
		b += 2
		d = 1 / (b - i*i*d)
		c = b - i*i/c
		h *= c * d
		if math.Abs(c*d-1) < ulp {
			break
		}
	}
	return h * math.Exp(-u)
}
