package variogram

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// system holds the data of one likelihood and the work space to evaluate it.
type system struct {
	n, q      int
	h         []float64 // distances, lower triangle by rows with the diagonal
	x         []float64 // n rows of q trend values and the data value, centred
	centre    []float64 // what centring took off, per column of x
	errorVar  []float64
	logDetXtX float64

	cov, v, w, a             []float64
	logDetV, logDetA, square float64
	condition                float64
}

func newSystem(points []XY, values, errorVar []float64, drift [][]float64) (*system, error) {
	n, q := len(points), 1+len(drift)
	if err := checkSample(points, values, errorVar, q+1); err != nil {
		return nil, err
	}
	s := &system{n: n, q: q, errorVar: errorVar}
	if err := s.fillTrend(values, drift); err != nil {
		return nil, err
	}
	s.h = make([]float64, 0, n*(n+1)/2)
	for i, p := range points {
		for _, r := range points[:i+1] {
			s.h = append(s.h, p.DistanceTo(r))
		}
	}
	s.cov = make([]float64, len(s.h))
	s.v = make([]float64, n*n)
	s.w = make([]float64, n*(q+1))
	s.a = make([]float64, (q+1)*(q+1))
	return s, s.gramTrend()
}

// fillTrend lays out rows [1, drift..., value]. All but the ones are centred,
// which changes neither likelihood nor slopes and saves the digits that large
// coordinates or elevations would cost.
func (s *system) fillTrend(values []float64, drift [][]float64) error {
	p := s.q + 1
	s.x = make([]float64, s.n*p)
	s.centre = make([]float64, p)
	for k, col := range append(slices.Clip(drift), values) {
		if err := sameLength("drift values", len(col), s.n); err != nil {
			return err
		}
		mean := floats.Sum(col) / float64(s.n)
		if !finite(mean) {
			return ErrNotFinite
		}
		s.centre[1+k] = mean
		for i, v := range col {
			s.x[i*p] = 1
			s.x[i*p+1+k] = v - mean
		}
	}
	return nil
}

// gramTrend sets log|X'X|; a trend with dependent columns has none.
func (s *system) gramTrend() error {
	copy(s.w, s.x)
	if err := s.gram(); err != nil {
		return err
	}
	s.logDetXtX = s.logDetA
	return nil
}

// solve factors V = C + scale·diag(errorVar) and sets the determinants and the
// residual square.
func (s *system) solve(m Model, scale float64) error {
	s.fillCov(m, scale)
	v := blas64.Symmetric{N: s.n, Stride: s.n, Uplo: blas.Lower, Data: s.v}
	l, ok := lapack64.Potrf(v)
	lo, hi := s.pivotRange()
	s.condition = (hi / lo) * (hi / lo)
	if !ok {
		return &ConditionError{Number: math.Inf(1)}
	}
	if !(s.condition <= MaxCondition) {
		return &ConditionError{Number: s.condition}
	}
	copy(s.w, s.x)
	w := blas64.General{Rows: s.n, Cols: s.q + 1, Stride: s.q + 1, Data: s.w}
	blas64.Trsm(blas.Left, blas.NoTrans, 1, l, w)
	return s.gram()
}

func (s *system) fillCov(m Model, scale float64) {
	clear(s.cov)
	m.AddCov(s.cov, s.h)
	for i, k := 0, 0; i < s.n; i++ {
		k += copy(s.v[i*s.n:], s.cov[k:k+i+1])
		if s.errorVar != nil {
			s.v[i*s.n+i] += scale * s.errorVar[i]
		}
	}
}

// pivotRange returns the extreme pivots and sets log|V|.
func (s *system) pivotRange() (lo, hi float64) {
	lo, s.logDetV = math.Inf(1), 0
	for i := range s.n {
		p := s.v[i*s.n+i]
		lo, hi = min(lo, p), max(hi, p)
		s.logDetV += 2 * math.Log(p)
	}
	return lo, hi
}

func (s *system) freedom(method Method) float64 {
	if method == ML {
		return float64(s.n)
	}
	return float64(s.n - s.q)
}

func (s *system) logLik(method Method) float64 {
	sum := s.freedom(method)*math.Log(2*math.Pi) + s.logDetV + s.square
	if method == REML {
		sum += s.logDetA - s.logDetXtX
	}
	return -sum / 2
}

// bestScale is the factor t that maximises the likelihood of t V.
func (s *system) bestScale(method Method) float64 {
	return s.square / s.freedom(method)
}

// logLikScaled is the log-likelihood of t V.
func (s *system) logLikScaled(method Method, t float64) float64 {
	free := s.freedom(method)
	return s.logLik(method) - (free*math.Log(t)+s.square/t-s.square)/2
}

// trend solves the small factor for the coefficients on the scale of the input.
func (s *system) trend() []float64 {
	p := s.q + 1
	b := make([]float64, s.q)
	for i := s.q - 1; i >= 0; i-- {
		b[i] = s.a[s.q*p+i]
		for r := i + 1; r < s.q; r++ {
			b[i] -= s.a[r*p+i] * b[r]
		}
		b[i] /= s.a[i*p+i]
	}
	b[0] += s.centre[s.q]
	for i := 1; i < s.q; i++ {
		b[0] -= b[i] * s.centre[i]
	}
	return b
}
