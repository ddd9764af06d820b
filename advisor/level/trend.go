package level

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// trend is how the low on the scale follows the shape of the land,
//
//	t(x) = Σ bₖ uₖ + Σ cₖⱼ (uₖ uⱼ or (uₖ² - 1)/√2),  uₖ = (xₖ - mₖ) / sₖ,
//
// with the b and the c Normal around what the readings say. Water lies deep under high
// ground, but not twice as deep under twice as high a hill, and what a height over the
// stream is worth depends on that over the river: so where readings are many the terms'
// squares and products stand beside them. Places whose land is not known have trend 0 and
// the spread of the trend among the readings as a further error.
type trend struct {
	mean, sd [landTerms]float64
	usual    *mat.Cholesky // of the covariances of the terms among the readings
	mostly   float64       // what unlike is among the readings, on average
	bends    bool          // with squares and products
	b        []float64
	priors   []float64 // variances of the slopes before anything was read
	cov      [][]float64
	spread   float64 // variance of the trend among the readings
	flat     bool    // no trend: the land is not known at enough readings
}

// How many readings with a known land a term needs, and each when squares and products are
// terms too.
const (
	perTerm = 5
	perBend = 3
)

// landBends is how many squares and products the terms have.
const landBends = landTerms * (landTerms + 1) / 2

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
	t.bends = n >= perBend*(landTerms+landBends)
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
	t.measure(places)
	return t
}

// before is the covariance of the trend at two places before anything was read.
func (t *trend) before(a, b []float64) (v float64) {
	for k, p := range t.priors {
		v += p * a[k] * b[k]
	}
	return v
}

// far limits how many standard deviations a term goes from its mean: beyond what readings
// have met, the trend stays as it is.
const far = 3.0

// drift returns the terms of a place in their standard deviations, all 0 where its land is
// not known.
func (t *trend) drift(l Land) []float64 {
	out := make([]float64, landTerms, landTerms+landBends)
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

// row is drift with squares and products where the trend has them.
func (t *trend) row(l Land) []float64 {
	out := t.drift(l)
	if !t.bends {
		return out
	}
	if t.flat || !l.known {
		return out[:cap(out)]
	}
	for k := range landTerms {
		out = append(out, (out[k]*out[k]-1)/math.Sqrt2)
		for j := range k {
			out = append(out, out[k]*out[j])
		}
	}
	return out
}

// bent is what squares and products say at places.
func (t *trend) bent(places []Land) []float64 {
	out := make([]float64, len(places))
	for i, l := range places {
		for k, x := range t.row(l)[landTerms:] {
			out[i] += t.b[landTerms+k] * x
		}
	}
	return out
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
		if k < len(t.b) {
			out = append(out, Slope{name, t.b[k], math.Sqrt(t.cov[k][k])})
		}
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
	row := t.row(l)
	for k, b := range t.b {
		value += b * row[k]
	}
	return value, 0
}

// uncertainty returns the variance of the trend of a difference of rows.
func (t *trend) uncertainty(d []float64) (v float64) {
	for i, row := range t.cov {
		for j, c := range row {
			v += d[i] * c * d[j]
		}
	}
	return max(v, 0)
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
