package level

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// rescale takes the scale under which the lows, as season and years give them, are
// likeliest beside the shape of the land, their reading errors and the Jacobian included,
//
//	log L = -½ Σ (log(s² + eᵢ) + rᵢ²/(s² + eᵢ)) + Σ log z'(yᵢ),
//
// with rᵢ what the terms of the land leave of z(yᵢ), eᵢ its error variance, and the s²
// that is best.
//
//   - Source: Box and Cox (1964).
//   - Checked by: TestScaleFollowsTheScatter.
func (f *fitting) rescale() {
	trend := newTrend(f.lands)
	columns := trend.columns(f.lands)
	lows := f.lows()
	best, bestLL := f.scale, math.Inf(-1)
	for _, s := range scales(lows, f.vagueVars()) {
		r := regression{columns: columns, z: make([]float64, len(lows)), errVars: make([]float64, len(lows))}
		ll := 0.0
		for i, o := range f.stated {
			r.z[i], r.errVars[i] = o.onScale(s, f.season)
			ll += math.Log(s.perMetre(lows[i]))
		}
		if ll += r.logLik(); ll > bestLL {
			best, bestLL = s, ll
		}
	}
	f.adopt(best, lows)
}

// regression is of values with known error variances on a constant and columns.
type regression struct {
	columns    [][]float64
	z, errVars []float64
}

// regressionRounds are enough for the variance to settle to what no choice depends on.
const regressionRounds = 6

// logLik is the log-likelihood at the variance that is best beside the known ones; minus
// infinity where the columns cannot be solved for.
func (r regression) logLik() float64 {
	n := len(r.z)
	s2, left := 0.0, make([]float64, n)
	for range regressionRounds {
		if !r.solve(s2, left) {
			return math.Inf(-1)
		}
		over, under := 0.0, 0.0
		for i, e := range left {
			w := square(1 / (s2 + r.errVars[i] + leastVar))
			over += w * (e*e - r.errVars[i])
			under += w
		}
		s2 = max(over/under, leastVar)
	}
	ll := 0.0
	for i, e := range left {
		v := s2 + r.errVars[i]
		ll -= (math.Log(v) + e*e/v) / 2
	}
	return ll
}

// leastVar keeps the weights of values without an error finite.
const leastVar = 1e-6

// solve sets what weighted least squares leave of the values.
func (r regression) solve(s2 float64, left []float64) bool {
	terms, z := mat.NewDense(len(r.z), 1+len(r.columns), nil), mat.NewVecDense(len(r.z), nil)
	for i, e := range r.errVars {
		w := 1 / math.Sqrt(s2+e+leastVar)
		terms.Set(i, 0, w)
		for k, column := range r.columns {
			terms.Set(i, 1+k, w*column[i])
		}
		z.SetVec(i, w*r.z[i])
	}
	var factor mat.QR
	factor.Factorize(terms)
	var b mat.VecDense
	if factor.SolveVecTo(&b, false, z) != nil {
		return false
	}
	for i := range left {
		left[i] = r.z[i] - b.AtVec(0)
		for k, column := range r.columns {
			left[i] -= b.AtVec(1+k) * column[i]
		}
	}
	return true
}
