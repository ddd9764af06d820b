package krige

import (
	"math"

	"waterstrike/advisor/variogram"
)

// Solver solves kriging systems at neighbours it is given, reusing its memory. It
// is not safe for concurrent use: take one per goroutine.
type Solver struct {
	model variogram.Model
	trend Trend
	sill  float64

	x, y, errVar []float64
	h            []float64 // distances, in the order of l
	l            triangle  // factor of the data's covariances
	rhs          []float64 // terms, values and target as rows of n, multiplied by the inverse of l
	small        triangle  // factor of the terms' Schur complement
	beta         []float64 // values' part of the small system
	nu           []float64 // target's part of the small system
	centre       []float64
	scale        []float64
	shift        float64
	weights      []float64
	slopes       []float64 // scratch of Weights
	predicted    bool
	condition    float64
	clamped      int

	leftOut       []int
	termCondition float64
}

// NewSolver returns a solver for one model and trend.
//
//   - Errors: [*variogram.ParameterError] when either is nil or the sill is not above 0.
//   - Source: the package comment.
func NewSolver(model variogram.Model, trend Trend) (*Solver, error) {
	if model == nil || trend == nil {
		return nil, &variogram.ParameterError{Name: "model or trend", Want: "not nil"}
	}
	sill := model.Sill()
	if !finite(sill) || sill <= 0 {
		return nil, &variogram.ParameterError{Name: "sill", Value: sill, Want: "a finite number above 0"}
	}
	q := trend.Terms()
	s := &Solver{model: model, trend: trend, sill: sill}
	s.small.resize(q)
	s.beta, s.nu, s.slopes = make([]float64, q), make([]float64, q), make([]float64, q)
	s.centre, s.scale = make([]float64, q), make([]float64, q)
	return s, nil
}

// Fit factors the kriging system of data, which Predict then answers from. With
// covariances C of the data plus their error variances, terms F and values z,
//
//		C = L L',  G = L⁻¹F,  y = L⁻¹z,  G'G = T T',  β = T⁻¹G'y.
//
//	  - Shapes: any number of data above the trend's terms (1 for a known mean).
//	  - Errors: [*TooFewError], [*DuplicateError], [variogram.ErrNotFinite],
//	    [*variogram.ParameterError] for a negative error variance or missing drift,
//	    [*variogram.ConditionError] when the condition number passes
//	    [variogram.MaxCondition] or drifts depend on each other among the data, unless
//	    the trend is [Universal.Sparing].
//	  - Cost: O(n³/6); no allocation once the solver has met a system of that size.
//	  - Source: Chilès and Delfiner (2012), Geostatistics, section 3.4.3, by block
//	    elimination; drifts are centred and scaled, which leaves the answer as it is.
//	  - Checked by: TestTargetsReference, TestExactAtData, TestDuplicates.
func (s *Solver) Fit(data []Datum) error {
	err := s.fit(data)
	if err != nil {
		s.l.resize(0) // nothing to predict from
	}
	return err
}

func (s *Solver) fit(data []Datum) error {
	s.predicted = false
	if err := s.load(data); err != nil {
		return err
	}
	if err := s.fillCov(); err != nil {
		return err
	}
	s.condition = s.l.factor(variogram.MaxCondition)
	if !(s.condition <= variogram.MaxCondition) {
		return &variogram.ConditionError{Number: s.condition}
	}
	s.sweepTerms()
	return s.factorSmall()
}

// Predict returns the best linear unbiased prediction at a point,
//
//	ẑ = Σ λᵢ zᵢ,  variance = C(0) - u'u + t't,
//
// with u = L⁻¹c₀ for the covariances c₀ of target and data and t = T⁻¹(f₀ - G'u).
//
//   - Shapes: as many drift values as the trend asks for; none for [Ordinary].
//   - Units: at in metres in the data's plane; the result in the values' unit.
//   - Domain: any finite point. At an exact datum the datum returns with variance 0.
//     Far from data the mean tends to the trend and the variance to the sill plus
//     the variance of the trend.
//   - Errors: [*TooFewError] without a fit that succeeded, [variogram.ErrNotFinite],
//     [*variogram.ParameterError] for missing drift, [*variogram.ConditionError] when rounding makes the variance less than
//     -1e-9 of the sill; between that and 0 it is returned as 0 and counted, see Clamped.
//   - Cost: O(n²/2), no allocation.
//   - Source: as Fit.
//   - Checked by: TestTargetsReference, TestGridReference, TestExactAtData, TestLaws.
func (s *Solver) Predict(at XY, drift ...float64) (Estimate, error) {
	if err := s.checkTarget(at, drift); err != nil {
		return Estimate{}, err
	}
	q := len(s.beta)
	u := s.row(q + 1)
	s.predicted = true
	s.sweepTarget(u, at)
	s.targetTerms(u, drift)
	mean := dot(u, s.row(q)) + dot(s.nu, s.beta) + s.shift
	variance := s.sill - dot(u, u) + dot(s.nu, s.nu)
	if !finite(mean) || !finite(variance) {
		return Estimate{}, variogram.ErrNotFinite
	}
	if variance < 0 {
		if variance < -1e-9*s.sill {
			return Estimate{}, &variogram.ConditionError{Number: s.condition}
		}
		s.clamped++
		variance = 0
	}
	return Estimate{mean, variance}, nil
}

// Solve is Fit and Predict for one target, the work of local kriging.
//
//   - Units, Errors, Source: as [Solver.Fit] and [Solver.Predict].
//   - Cost: about 8 µs for 32 neighbours, no allocation.
//   - Checked by: TestTargetsReference.
func (s *Solver) Solve(neighbours []Datum, at XY, drift ...float64) (Estimate, error) {
	if err := s.Fit(neighbours); err != nil {
		return Estimate{}, err
	}
	return s.Predict(at, drift...)
}

// Condition is a lower bound of the condition number of the last system.
func (s *Solver) Condition() float64 { return s.condition }

// TermCondition is a lower bound of the condition number of the last system's trend: how
// nearly its drifts follow from each other. It is 1 without drifts.
func (s *Solver) TermCondition() float64 { return s.termCondition }

// LeftOut lists the drifts that the last system did without, by their place among the
// drift values, in order. It is valid until the next fit and always empty unless the
// trend is [Universal.Sparing].
func (s *Solver) LeftOut() []int { return s.leftOut }

// Clamped is how many variances rounding had made negative so far.
func (s *Solver) Clamped() int { return s.clamped }

func (s *Solver) row(k int) []float64 {
	n := s.l.n
	return s.rhs[k*n : (k+1)*n]
}

func (s *Solver) checkTarget(at XY, drift []float64) error {
	if s.l.n == 0 {
		return &TooFewError{Have: 0, Need: 1}
	}
	if !at.Finite() {
		return variogram.ErrNotFinite
	}
	return s.checkDrift(drift)
}

func (s *Solver) checkDrift(drift []float64) error {
	if len(drift) != s.trend.Drifts() {
		return &variogram.ParameterError{Name: "number of drift values", Value: float64(len(drift)), Want: "as many as the trend has drifts"}
	}
	for _, v := range drift {
		if !finite(v) {
			return variogram.ErrNotFinite
		}
	}
	return nil
}

// sweepTarget sets u = L⁻¹c₀.
func (s *Solver) sweepTarget(u []float64, at XY) {
	h := s.h[:len(u)]
	for i := range h {
		dx, dy := s.x[i]-at.X, s.y[i]-at.Y
		h[i] = math.Sqrt(dx*dx + dy*dy)
	}
	clear(u)
	s.model.AddCov(u, h)
	s.l.sweep(u, len(u))
}

// targetTerms sets nu = T⁻¹(f₀ - G'u).
func (s *Solver) targetTerms(u, drift []float64) {
	s.trend.Row(s.nu, drift)
	for k := range s.nu {
		s.nu[k] = (s.nu[k]-s.centre[k])*s.scale[k] - dot(u, s.row(k))
	}
	s.small.sweep(s.nu, len(s.nu))
}
