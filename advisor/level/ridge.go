package level

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// learn estimates the slopes from data of known likeness: each of them Normal around 0,
// those of the terms with one variance and those of squares and products with another, the
// two that make the data likeliest,
//
//	b = (B + T⁻¹)⁻¹ g,  cov = (B + T⁻¹)⁻¹,
//
// with T the variances, and B and g the products of terms and of terms and values under
// K⁻¹, the mean taken out.
//
//   - Shapes: one row of terms for each datum.
//   - Errors: [variogram.ConditionError] when the covariances cannot be factored.
//   - Cost: O(n³/3).
//   - Source: ridge regression, Hoerl and Kennard (1970); its variance by the marginal
//     likelihood, as in empirical Bayes, Morris (1983).
//   - Checked by: TestTrendIsLearned, TestTrendOfNothing.
func (t *trend) learn(data []krige.Datum, likeness variogram.Model) error {
	products, err := products(data, likeness, nil)
	if err != nil {
		return err
	}
	if err := t.slopes(products); err != nil {
		return err
	}
	t.spread = t.spreadOver(data)
	return nil
}

// spreadOver is the variance of the trend among data.
func (t *trend) spreadOver(data []krige.Datum) float64 {
	sum, square := 0.0, 0.0
	for _, d := range data {
		value := 0.0
		for k, x := range d.Drift {
			value += t.b[k] * x
		}
		sum += value
		square += value * value
	}
	n := float64(len(data))
	return max(square/n-sum/n*sum/n, 0)
}

// slopes takes the mean out of the products of terms and values and solves for the slopes.
func (t *trend) slopes(products *mat.Dense) error {
	without := func(i, j int) float64 {
		return products.At(i, j) - products.At(i, 0)*products.At(0, j)/products.At(0, 0)
	}
	n := landTerms
	if t.bends {
		n += landBends
	}
	information, right := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			information.SetSym(i, j, without(i+1, j+1))
		}
		right.SetVec(i, without(i+1, n+1))
	}
	best := ridge{logLik: math.Inf(-1)}
	for _, bend := range t.bendShares() {
		for step := leastStep; step <= mostStep; step++ {
			variance := math.Exp(float64(step) / 2)
			if r := ridgeOf(information, right, variance, bend*variance); r.logLik > best.logLik {
				best = r
			}
		}
	}
	if best.b == nil {
		return conditionError(math.Inf(1))
	}
	var err error
	t.b, t.cov, err = best.slopes()
	t.priors = make([]float64, n)
	for k, sd := range best.spread {
		t.priors[k] = sd * sd
	}
	return err
}

// What variances of slopes are tried, steps of half a logarithm, and shares of them for
// squares and products.
const (
	leastStep = -24
	mostStep  = 8
)

func (t *trend) bendShares() []float64 {
	if !t.bends {
		return []float64{1}
	}
	return []float64{1e-6, 0.003, 0.01, 0.03, 0.1, 0.3}
}

// ridge is the slopes under two variances.
type ridge struct {
	logLik float64
	b      *mat.VecDense
	spread []float64 // standard deviation of each slope before anything was read
	factor mat.Cholesky
}

// ridgeOf solves for the slopes scaled by their spread,
//
//	log L = -½ log|M| + ½ h'M⁻¹h,  M = I + T½ B T½,  h = T½ g,  b = T½ M⁻¹ h.
func ridgeOf(information *mat.SymDense, right *mat.VecDense, variance, bendVariance float64) ridge {
	n := right.Len()
	out := ridge{logLik: math.Inf(-1), spread: make([]float64, n)}
	m, h := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		out.spread[i] = math.Sqrt(variance)
		if i >= landTerms {
			out.spread[i] = math.Sqrt(bendVariance)
		}
		for j := range i + 1 {
			m.SetSym(i, j, out.spread[i]*information.At(i, j)*out.spread[j])
		}
		m.SetSym(i, i, 1+max(m.At(i, i), 0))
		h.SetVec(i, out.spread[i]*right.AtVec(i))
	}
	solved := mat.NewVecDense(n, nil)
	if !out.factor.Factorize(m) || out.factor.SolveVecTo(solved, h) != nil {
		return out
	}
	out.logLik = (mat.Dot(h, solved) - out.factor.LogDet()) / 2
	out.b = solved
	return out
}

// slopes returns them and what is not known of them, as they are.
func (r *ridge) slopes() (b []float64, cov [][]float64, err error) {
	n := len(r.spread)
	var inverse mat.SymDense
	if r.factor.InverseTo(&inverse) != nil {
		return nil, nil, conditionError(r.factor.Cond())
	}
	b, cov = make([]float64, n), make([][]float64, n)
	for i := range n {
		b[i] = r.spread[i] * r.b.AtVec(i)
		cov[i] = make([]float64, n)
		for j := range n {
			cov[i][j] = r.spread[i] * inverse.At(i, j) * r.spread[j]
		}
	}
	return b, cov, nil
}
