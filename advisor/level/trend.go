package level

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// trend is how the low on the log scale follows the shape of the land,
//
//	t(x) = Σ bₖ (xₖ - mₖ) / sₖ,
//
// with the b Normal around what the readings say. Places whose land is not known have
// trend 0 and the spread of the trend among the readings as a further error.
type trend struct {
	mean, sd [landTerms]float64
	b        [landTerms]float64
	cov      [landTerms][landTerms]float64
	spread   float64 // variance of the trend among the readings
	flat     bool    // no trend: the land is not known at enough readings
}

// perTerm is how many readings with a known land a term needs.
const perTerm = 5

// newTrend measures the terms among places; its slopes are 0 until [trend.learn].
func newTrend(places []Land) trend {
	var t trend
	n := 0.0
	for _, l := range places {
		if l.known {
			n++
		}
	}
	t.flat = n < perTerm*landTerms || 2*n < float64(len(places))
	if t.flat {
		return t
	}
	for k := range landTerms {
		sum, square := 0.0, 0.0
		for _, l := range places {
			if l.known {
				sum += l.terms[k]
				square += l.terms[k] * l.terms[k]
			}
		}
		t.mean[k] = sum / n
		t.sd[k] = math.Sqrt(max(square/n-t.mean[k]*t.mean[k], 0))
	}
	return t
}

// far limits how many standard deviations a term goes from its mean: beyond what readings
// have met, the trend stays as it is.
const far = 3.0

// row returns the terms of a place in their standard deviations, all 0 where its land is
// not known.
func (t *trend) row(l Land) (out [landTerms]float64) {
	if t.flat || !l.known {
		return out
	}
	for k, sd := range t.sd {
		if sd > leastSD {
			out[k] = max(-far, min((l.terms[k]-t.mean[k])/sd, far))
		}
	}
	return out
}

// drift is row as a list.
func (t *trend) drift(l Land) []float64 {
	row := t.row(l)
	return row[:]
}

// leastShare is the share of the terms' variance below which a direction of them is taken
// for none: heights over streams and over the lowest ground may be one and the same.
const leastShare = 1e-4

// columns lists what the terms say place by place along their own directions, so that none
// depends on another; none for a flat trend.
func (t *trend) columns(places []Land) (out [][]float64) {
	if t.flat {
		return nil
	}
	rows := mat.NewDense(len(places), landTerms, nil)
	for i, l := range places {
		rows.SetRow(i, t.drift(l))
	}
	var products mat.SymDense
	products.SymOuterK(1, rows.T())
	var eigen mat.EigenSym
	if !eigen.Factorize(&products, true) {
		return nil
	}
	var directions, along mat.Dense
	eigen.VectorsTo(&directions)
	along.Mul(rows, &directions)
	for k, v := range eigen.Values(nil) {
		if v > leastShare*float64(len(places)*landTerms) {
			out = append(out, mat.Col(nil, k, &along))
		}
	}
	return out
}

// Slope is how much the low changes with one term of the land.
type Slope struct {
	Term string  `json:"term"`
	B    float64 `json:"b"`  // change of the logarithm by one standard deviation of the term
	SD   float64 `json:"sd"` // what is not known of it
}

// report lists the slopes, the strongest first.
func (t *trend) report() (out []Slope) {
	if t.flat {
		return nil
	}
	for k, name := range termNames {
		out = append(out, Slope{name, t.b[k], math.Sqrt(t.cov[k][k])})
	}
	slices.SortStableFunc(out, func(a, b Slope) int { return cmp.Compare(math.Abs(b.B), math.Abs(a.B)) })
	return out
}

// leastSD is the standard deviation below which a term is the same everywhere.
const leastSD = 1e-6

// at returns the trend at a place, and the variance that it adds to a datum there.
func (t *trend) at(l Land) (value, extra float64) {
	if t.flat {
		return 0, 0
	}
	if !l.known {
		return 0, t.spread
	}
	for k, x := range t.row(l) {
		value += t.b[k] * x
	}
	return value, 0
}

// uncertainty returns the variance of the trend of a difference of rows.
func (t *trend) uncertainty(d [landTerms]float64) (v float64) {
	for i := range d {
		for j := range d {
			v += d[i] * t.cov[i][j] * d[j]
		}
	}
	return max(v, 0)
}

// learn estimates the slopes from data of known likeness: each of them Normal around 0
// with one variance, which is the one that makes the data likeliest,
//
//	b = (B + I/τ²)⁻¹ g,  cov = (B + I/τ²)⁻¹,
//
// with B and g the products of terms and of terms and values under K⁻¹, the mean taken out.
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

// products returns the products under K⁻¹ of the constant, the drifts, further terms of
// each datum (none when nil) and the values, in that order.
func products(data []krige.Datum, likeness variogram.Model, more []*mat.VecDense) (*mat.Dense, error) {
	n := len(data)
	k := covariances(data, likeness)
	var x *mat.Dense
	for i, d := range data {
		row := append([]float64{1}, d.Drift...)
		if more != nil {
			row = append(row, more[i].RawVector().Data...)
		}
		row = append(row, d.Value)
		if x == nil {
			x = mat.NewDense(n, len(row), nil)
		}
		x.SetRow(i, row)
	}
	var factor mat.Cholesky
	if !factor.Factorize(k) {
		return nil, conditionError(math.Inf(1))
	}
	var solved, out mat.Dense
	if err := factor.SolveTo(&solved, x); err != nil {
		return nil, conditionError(factor.Cond())
	}
	out.Mul(x.T(), &solved)
	return &out, nil
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
	information := mat.NewSymDense(landTerms, nil)
	right := mat.NewVecDense(landTerms, nil)
	for i := range landTerms {
		for j := range i + 1 {
			information.SetSym(i, j, without(i+1, j+1))
		}
		right.SetVec(i, without(i+1, landTerms+1))
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(information, true) {
		return conditionError(math.Inf(1))
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	lambda := eigen.Values(nil)
	var turned mat.VecDense
	turned.MulVec(vectors.T(), right)
	variance := likeliestVariance(lambda, turned.RawVector().Data)
	for i := range landTerms {
		t.b[i] = 0
		for j := range landTerms {
			t.cov[i][j] = 0
		}
		for k, l := range lambda {
			v := 1 / (max(l, 0) + 1/variance)
			t.b[i] += vectors.At(i, k) * v * turned.AtVec(k)
			for j := range landTerms {
				t.cov[i][j] += vectors.At(i, k) * v * vectors.At(j, k)
			}
		}
	}
	return nil
}

// likeliestVariance returns the variance of slopes that makes the data likeliest, given the
// information λ and the right sides g along its own directions:
//
//	log L = Σ -½ log(1 + λτ²) + ½ g² τ² / (1 + λτ²).
func likeliestVariance(lambda, g []float64) float64 {
	best, bestLL := 0.0, math.Inf(-1)
	for step := -60; step <= 20; step++ {
		variance := math.Exp(float64(step) / 5)
		ll := 0.0
		for i, l := range lambda {
			with := 1 + max(l, 0)*variance
			ll += (g[i]*g[i]*variance/with - math.Log(with)) / 2
		}
		if ll > bestLL {
			best, bestLL = variance, ll
		}
	}
	return best
}

// covariances is K, with the error variances of the data on its diagonal.
func covariances(data []krige.Datum, likeness variogram.Model) *mat.SymDense {
	k := mat.NewSymDense(len(data), nil)
	for i, d := range data {
		for j := range i {
			k.SetSym(i, j, likeness.Cov(d.DistanceTo(data[j].XY)))
		}
		k.SetSym(i, i, likeness.Cov(0)+d.ErrVar)
	}
	return k
}
