package level

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// courseSDM is what is known beforehand of how far the yearly range is from the default's,
// metres. Common practice, no source.
const courseSDM = 1.5

// course is what readings say of the yearly course: how far the water stands over its low
// at each knot, metres, with what is not known of it.
type course struct {
	overM  [knots]float64
	cov    [knots][knots]float64
	rangeM float64 // mean over the shapes
	varM2  float64 // of the range
}

// told is what readings tell of the depth at each knot beside the land: information and
// right side of the normal equations.
type told struct {
	information *mat.SymDense
	right       *mat.VecDense
}

// along returns both for a course that is a multiple of a shape, over the low and so up.
func (t told) along(s *[knots]float64) (information, right float64) {
	v := mat.NewVecDense(knots, s[:])
	return mat.Inner(v, t.information, v), -mat.Dot(v, t.right)
}

// gains is the log-likelihood that a course gains over water that stands still.
func (t told) gains(c course) float64 {
	information, right := t.along(&c.overM)
	return right - information/2
}

// course averages over all shapes by how likely the readings are under each, its range A
// Normal around the one before:
//
//	log L = ½ m² v - ½ A₀²/σ² - ½ log(1 + σ² I),  v = 1 / (I + 1/σ²),  m = r + A₀/σ²,
//
// with I and r information and right side along the shape; its range is m v, of variance v.
//
//   - Source: Bayesian model averaging, Hoeting et al. (1999).
func (t told) course(rangeM float64) (out course) {
	all := shapes()
	weights, ranges, vars := make([]float64, len(all)), make([]float64, len(all)), make([]float64, len(all))
	best := math.Inf(-1)
	for i := range all {
		information, right := t.along((*[knots]float64)(&all[i]))
		v := 1 / (information + 1/square(courseSDM))
		m := right + rangeM/square(courseSDM)
		ranges[i], vars[i] = m*v, v
		weights[i] = (m*m*v - square(rangeM/courseSDM) - math.Log(1+square(courseSDM)*information)) / 2
		if ranges[i] <= 0 {
			weights[i] = math.Inf(-1)
		}
		best = max(best, weights[i])
	}
	total := 0.0
	for i, w := range weights {
		weights[i] = math.Exp(w - best)
		total += weights[i]
	}
	for i, w := range weights {
		w /= total
		out.rangeM += w * ranges[i]
		out.varM2 += w * (vars[i] + square(ranges[i]))
		for k, a := range all[i] {
			out.overM[k] += w * ranges[i] * a
			for j, b := range all[i] {
				out.cov[k][j] += w * (vars[i] + square(ranges[i])) * a * b
			}
		}
	}
	out.varM2 -= square(out.rangeM)
	for k := range knots {
		for j := range knots {
			out.cov[k][j] -= out.overM[k] * out.overM[j]
		}
	}
	return out
}

// tellCourse takes constant and land out of the products of terms, knots and values.
func tellCourse(products *mat.Dense) (told, error) {
	const n = 1 + landTerms
	own := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			own.SetSym(i, j, products.At(i, j))
		}
		if i > 0 { // slopes of a land that does not vary are then 0
			own.SetSym(i, i, own.At(i, i)+1e-6*products.At(0, 0))
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(own) {
		return told{}, conditionError(math.Inf(1))
	}
	cross := products.Slice(0, n, n, n+knots+1)
	var solved, taken mat.Dense
	if err := factor.SolveTo(&solved, cross); err != nil {
		return told{}, conditionError(factor.Cond())
	}
	taken.Mul(cross.T(), &solved)
	out := told{mat.NewSymDense(knots, nil), mat.NewVecDense(knots, nil)}
	for i := range knots {
		for j := range i + 1 {
			out.information.SetSym(i, j, products.At(n+i, n+j)-taken.At(i, j))
		}
		out.right.SetVec(i, products.At(n+i, n+knots)-taken.At(i, knots))
	}
	return out, nil
}
