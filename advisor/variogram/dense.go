package variogram

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// dense is the exact whitener: one factor of the whole covariance matrix.
type dense struct {
	points   []XY
	errorVar []float64 // nil when no datum has a reading error
	bent     Anisotropy
	h        []float64 // distances reduced by bent, lower triangle by rows with the diagonal
	cov, v   []float64
	turned   []float64 // the columns of x, one after another
}

func newDense(d *dataset) *dense {
	n := len(d.points)
	return &dense{points: d.points, errorVar: d.errorVar, cov: make([]float64, n*(n+1)/2), v: make([]float64, n*n)}
}

func (d *dense) whiten(m Model, a Anisotropy, x, w []float64, p int) (logDet, condition float64, err error) {
	n := len(d.points)
	d.measure(a)
	d.fillCov(m)
	if !factor(d.v, n) {
		return 0, 0, &ConditionError{Number: math.Inf(1)}
	}
	for i := range n {
		logDet += 2 * math.Log(d.v[i*n+i])
	}
	d.solve(x, w, p)
	return logDet, pivotCondition(d.v, n), nil
}

// solve sets w to G⁻¹x, column by column: there are few of them, and blas64.Trsm goes along
// their rows.
func (d *dense) solve(x, w []float64, p int) {
	n := len(d.points)
	if len(d.turned) != n*p {
		d.turned = make([]float64, n*p)
	}
	for i := range n {
		row := d.v[i*n : i*n+i+1]
		for k := range p {
			done := d.turned[k*n : k*n+i+1]
			done[i] = (x[i*p+k] - floats.Dot(row[:i], done[:i])) / row[i]
			w[i*p+k] = done[i]
		}
	}
}

// measure sets the distances, unless they are those of the last call.
func (d *dense) measure(a Anisotropy) {
	if d.h != nil && d.bent == a {
		return
	}
	d.bent, d.h = a, d.h[:0]
	points := a.reduceAll(d.points)
	for i, p := range points {
		for _, r := range points[:i+1] {
			d.h = append(d.h, p.DistanceTo(r))
		}
	}
}

func (d *dense) fillCov(m Model) {
	clear(d.cov)
	m.AddCov(d.cov, d.h)
	n := len(d.points)
	for i, k := 0, 0; i < n; i++ {
		k += copy(d.v[i*n:], d.cov[k:k+i+1])
		if d.errorVar != nil {
			d.v[i*n+i] += d.errorVar[i]
		}
	}
}

// pivotCondition is the square of the ratio of a factor's extreme pivots, a lower bound
// of the condition number of what was factored.
func pivotCondition(v []float64, n int) float64 {
	lo, hi := math.Inf(1), 0.0
	for i := range n {
		p := v[i*n+i]
		lo, hi = min(lo, p), max(hi, p)
	}
	return (hi / lo) * (hi / lo)
}
