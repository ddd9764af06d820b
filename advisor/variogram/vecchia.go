package variogram

import (
	"math"
	"runtime"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"waterstrike/advisor/near"
)

// vecchia is the whitener in which each datum knows only its nearest neighbours among
// the data before it. Its cost grows with the number of data, not with its cube.
type vecchia struct {
	points   []XY // each far from those before it
	errorVar []float64
	most     int     // neighbours of a datum
	sets     []int32 // most for each datum, of which datum i uses the first min(i, most)
	pivots   []float64
}

// newVecchia orders d farthest first in the plane reduced by a, where it also looks
// for neighbours, and returns the whitener of the ordered data.
func newVecchia(d *dataset, most int, a Anisotropy) (*vecchia, *dataset) {
	x, y := columns(a.reduceAll(d.points))
	order := near.FarthestFirst(x, y)
	x, y = pick(x, order), pick(y, order)
	d = d.pick(order)
	v := &vecchia{points: d.points, errorVar: d.errorVar, most: most}
	v.sets, v.pivots = make([]int32, len(x)*most), make([]float64, len(x))
	tree := near.NewTree(x, y)
	inChunks(len(x), func(from, to int) {
		q := tree.Query()
		for i := from; i < to; i++ {
			for k, f := range q.Earlier(x[i], y[i], most, i) {
				v.sets[i*most+k] = int32(tree.Order()[f.At])
			}
		}
	})
	return v, d
}

// inChunks runs f over parts of 0 to n at the same time. What f does must not depend
// on where the parts begin.
func inChunks(n int, f func(from, to int)) {
	workers := min(runtime.GOMAXPROCS(0), 1+n/256)
	var wait sync.WaitGroup
	for k := range workers {
		wait.Go(func() { f(k*n/workers, (k+1)*n/workers) })
	}
	wait.Wait()
}

func (v *vecchia) whiten(m Model, a Anisotropy, x, w []float64, p int) (logDet, condition float64, err error) {
	points := a.reduceAll(v.points)
	worst := make([]float64, len(points)) // condition number of each datum's block
	inChunks(len(points), func(from, to int) {
		b := newBlock(v.most)
		for i := from; i < to; i++ {
			set := v.sets[i*v.most : i*v.most+min(i, v.most)]
			v.pivots[i], worst[i] = b.factor(m, points, v.errorVar, set, i)
			b.apply(x, w, p, set, i, v.pivots[i])
		}
	})
	for i, p := range v.pivots { // in order, so that the sum is the same on any machine
		condition = max(condition, worst[i])
		logDet += 2 * math.Log(p)
	}
	if math.IsInf(condition, 1) {
		return 0, 0, &ConditionError{Number: condition}
	}
	return logDet, condition, nil
}

// block is the working memory for one datum and its neighbours.
type block struct {
	x, y, h, cov, v []float64
	weights         []float64
}

func newBlock(most int) *block {
	n := most + 1
	return &block{
		x: make([]float64, n), y: make([]float64, n),
		h: make([]float64, n*(n+1)/2), cov: make([]float64, n*(n+1)/2), v: make([]float64, n*n),
		weights: make([]float64, most),
	}
}

// factor factors the covariances of a datum's neighbours and, last, itself. It returns
// the standard deviation of the datum given its neighbours and sets their weights.
func (b *block) factor(m Model, points []XY, errorVar []float64, set []int32, i int) (pivot, condition float64) {
	n := len(set) + 1
	for k, j := range set {
		b.x[k], b.y[k] = points[j].X, points[j].Y
	}
	b.x[n-1], b.y[n-1] = points[i].X, points[i].Y
	b.fillCov(m, n)
	if errorVar != nil {
		for k, j := range set {
			b.v[k*n+k] += errorVar[j]
		}
		b.v[n*n-1] += errorVar[i]
	}
	l, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Uplo: blas.Lower, Data: b.v[:n*n]})
	if !ok {
		return 1, math.Inf(1)
	}
	copy(b.weights, b.v[(n-1)*n:n*n-1])
	if n > 1 {
		l.N = n - 1
		blas64.Trsv(blas.Trans, l, blas64.Vector{N: n - 1, Inc: 1, Data: b.weights})
	}
	return b.v[n*n-1], pivotCondition(b.v, n)
}

func (b *block) fillCov(m Model, n int) {
	at := 0
	for i := range n {
		xi, yi := b.x[i], b.y[i]
		h, ys := b.h[at:at+i+1], b.y[:i+1]
		for j, xj := range b.x[:i+1] {
			dx, dy := xi-xj, yi-ys[j]
			h[j] = math.Sqrt(dx*dx + dy*dy)
		}
		at += i + 1
	}
	clear(b.cov[:at])
	m.AddCov(b.cov, b.h[:at])
	for i, k := 0, 0; i < n; i++ {
		k += copy(b.v[i*n:], b.cov[k:k+i+1])
	}
}

// apply sets a datum's row of w to what its neighbours do not tell, in units of the
// standard deviation given them.
func (b *block) apply(x, w []float64, p int, set []int32, i int, pivot float64) {
	row := w[i*p : (i+1)*p]
	copy(row, x[i*p:])
	for k, j := range set {
		c := b.weights[k]
		for r, v := range x[int(j)*p : int(j)*p+p] {
			row[r] -= c * v
		}
	}
	for r := range row {
		row[r] /= pivot
	}
}
