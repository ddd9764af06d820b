package krige

import (
	"errors"
	"math"

	"waterstrike/advisor/near"
	"waterstrike/advisor/variogram"
)

// Neighbourhood says which data a local prediction uses.
type Neighbourhood struct {
	Nearest   int     // at most this many, the nearest; required, 1 or more
	DistanceM float64 // none farther than this, inclusive; 0 for no limit
	AtLeast   int     // an error with fewer; 0 for as many as the trend needs
}

// DefaultNeighbourhood is the 32 nearest data, however far.
func DefaultNeighbourhood() Neighbourhood { return Neighbourhood{Nearest: 32} }

func (h Neighbourhood) check() error {
	if h.Nearest < 1 || h.AtLeast < 0 || h.AtLeast > h.Nearest {
		return &variogram.ParameterError{Name: "nearest", Value: float64(h.Nearest), Want: "1 or more, and not below at least"}
	}
	if !(h.DistanceM >= 0) || math.IsInf(h.DistanceM, 1) {
		return &variogram.ParameterError{Name: "distance", Value: h.DistanceM, Want: "a finite number, 0 or above"}
	}
	return nil
}

// limit is the squared distance limit.
func (h Neighbourhood) limit() float64 {
	if h.DistanceM == 0 {
		return math.Inf(1)
	}
	return h.DistanceM * h.DistanceM
}

// Local is a set of data with their search tree, predicted from by the nearest
// ones. It is immutable and safe for concurrent use.
type Local struct {
	data  []Datum // in bucket order: neighbours lie near each other in memory
	tree  *near.Tree
	model variogram.Model
	trend Trend
	hood  Neighbourhood
}

// NewLocal prepares data for local kriging.
//
//   - Shapes: any number of data, copied; their drift slices are shared and must not
//     change.
//   - Units: metres in a projected plane; see [Datum].
//   - Errors: [variogram.ErrNotFinite], [*variogram.ParameterError].
//   - Cost: O(n log n); 100,000 data take about 30 ms.
//   - Source: [near.NewTree].
//   - Checked by: TestSearchIsLinearScan.
func NewLocal(data []Datum, model variogram.Model, trend Trend, hood Neighbourhood) (*Local, error) {
	if err := hood.check(); err != nil {
		return nil, err
	}
	s, err := NewSolver(model, trend)
	if err != nil {
		return nil, err
	}
	for i := range data {
		if err := data[i].check(); err != nil {
			return nil, err
		}
		if err := s.checkDrift(data[i].Drift); err != nil {
			return nil, err
		}
	}
	l := &Local{tree: treeOf(data), model: model, trend: trend, hood: hood}
	l.data = make([]Datum, len(data))
	for at, i := range l.tree.Order() {
		l.data[at] = data[i]
	}
	return l, nil
}

func treeOf(data []Datum) *near.Tree {
	x, y := make([]float64, len(data)), make([]float64, len(data))
	for i, d := range data {
		x[i], y[i] = d.X, d.Y
	}
	return near.NewTree(x, y)
}

// Predictor predicts from a [Local]. It holds working memory: take one per
// goroutine.
type Predictor struct {
	local  *Local
	query  *near.Query
	solver *Solver
	data   []Datum
	ids    []int
}

// Predictor returns a new predictor.
func (l *Local) Predictor() *Predictor {
	s, err := NewSolver(l.model, l.trend)
	if err != nil {
		panic("krige: model and trend left their checked state: " + err.Error())
	}
	return &Predictor{local: l, query: l.tree.Query(), solver: s}
}

// Predict returns the kriging estimate at a point from its nearest data.
//
//   - Units, Domain: as [Solver.Predict].
//   - Errors: [*TooFewError] with fewer data in reach than asked for; as
//     [Solver.Fit] and [Solver.Predict], with the indices of [NewLocal]'s data.
//   - Cost: see BenchmarkScattered; no allocation.
//   - Source: as [Solver.Fit].
//   - Checked by: TestTargetsReference, TestGridReference.
func (p *Predictor) Predict(at XY, drift ...float64) (Estimate, error) {
	return p.predict(at, -1, drift)
}

// Neighbours returns the indices of the data last used, nearest first, ties in the
// order of the data. It is valid until the next prediction.
func (p *Predictor) Neighbours() []int { return p.ids }

// Weights returns the weights of the data last used, in the order of Neighbours.
func (p *Predictor) Weights() []float64 { return p.solver.Weights() }

// predict leaves out the datum of index skip, if any.
func (p *Predictor) predict(at XY, skip int, drift []float64) (Estimate, error) {
	if !at.Finite() {
		return Estimate{}, variogram.ErrNotFinite
	}
	hood := p.local.hood
	p.data, p.ids = p.data[:0], p.ids[:0]
	for _, f := range p.query.Nearest(at.X, at.Y, hood.Nearest, skip, hood.limit()) {
		p.data = append(p.data, p.local.data[f.At])
		p.ids = append(p.ids, p.local.tree.Order()[f.At])
	}
	if len(p.ids) < hood.AtLeast {
		return Estimate{}, &TooFewError{Have: len(p.ids), Need: hood.AtLeast}
	}
	e, err := p.solver.Solve(p.data, at, drift...)
	if err != nil {
		return Estimate{}, p.named(err)
	}
	return e, nil
}

// named turns positions among the neighbours into indices of the data.
func (p *Predictor) named(err error) error {
	var twins *DuplicateError
	if !errors.As(err, &twins) {
		return err
	}
	i, j := p.ids[twins.I], p.ids[twins.J]
	return &DuplicateError{I: min(i, j), J: max(i, j)}
}

// LeaveOneOut predicts every datum from its nearest others.
//
//   - Shapes: one estimate per datum, in the order given to [NewLocal].
//   - Units: as [Solver.LeaveOneOut]: the variance is of the ground, without the
//     reading's own error.
//   - Errors: as Predict, at the first datum that has one.
//   - Source: as [Solver.Fit].
//   - Checked by: TestLeaveOneOutReference.
func (p *Predictor) LeaveOneOut() ([]Estimate, error) {
	out := make([]Estimate, len(p.local.data))
	for at, i := range p.local.tree.Order() {
		d := &p.local.data[at]
		e, err := p.predict(d.XY, i, d.Drift)
		if err != nil {
			return nil, err
		}
		out[i] = e
	}
	return out, nil
}
