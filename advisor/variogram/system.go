package variogram

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// system holds the data of one likelihood and the work space to evaluate it.
type system struct {
	n, q      int
	x         []float64 // n rows of q trend values and the data value, centred
	centre    []float64 // what centring took off, per column of x
	logDetXtX float64
	white     whitener

	w, a                     []float64
	logDetV, logDetA, square float64
	condition                float64
}

// whitener factors V = C + diag(errorVar) as G G' and sets w to the rows of G⁻¹x, p
// numbers each. condition is a lower bound of V's condition number.
type whitener interface {
	whiten(m Model, a Anisotropy, x, w []float64, p int) (logDet, condition float64, err error)
}

func newSystem(d *dataset, white whitener) (*system, error) {
	n, q := len(d.points), 1+len(d.drift)
	s := &system{n: n, q: q, white: white}
	if err := s.fillTrend(d.values, d.drift); err != nil {
		return nil, err
	}
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

// solve sets the determinants and the residual square of a model whose distances are
// measured in the plane reduced by a.
func (s *system) solve(m Model, a Anisotropy) error {
	var err error
	if s.logDetV, s.condition, err = s.white.whiten(m, a, s.x, s.w, s.q+1); err != nil {
		return err
	}
	if !(s.condition <= MaxCondition) {
		return &ConditionError{Number: s.condition}
	}
	return s.gram()
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

// likelihood is what the last solve found.
func (s *system) likelihood(method Method) Likelihood {
	return Likelihood{LogLik: s.logLik(method), Trend: s.trend(), Condition: s.condition}
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
