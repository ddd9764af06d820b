package krige

import (
	"errors"

	"waterstrike/advisor/near"
	"waterstrike/advisor/variogram"
)

// Local is a set of data with their search tree, predicted from by the nearest
// ones. It is immutable and safe for concurrent use.
type Local struct {
	data  []Datum // reduced, in bucket order: neighbours lie near each other in memory
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
	reduced := make([]Datum, len(data))
	for i, d := range data {
		d.XY = hood.Anisotropy.Reduce(d.XY)
		reduced[i] = d
	}
	l := &Local{tree: treeOf(reduced), model: model, trend: trend, hood: hood}
	l.data = make([]Datum, len(data))
	for at, i := range l.tree.Order() {
		l.data[at] = reduced[i]
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
	sides  balance
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
//   - Units, Domain: as [Solver.Predict]; the point is not reduced.
//   - Errors: [*TooFewError] with fewer data in reach than asked for; as
//     [Solver.Fit] and [Solver.Predict], with the indices of [NewLocal]'s data.
//   - Cost: see BenchmarkScattered; no allocation.
//   - Source: as [Solver.Fit].
//   - Checked by: TestTargetsReference, TestGridReference, TestAnisotropyReference.
func (p *Predictor) Predict(at XY, drift ...float64) (Estimate, error) {
	return p.predict(p.local.hood.Anisotropy.Reduce(at), -1, drift)
}

// Neighbours returns the indices of the data last used, nearest first, ties in the
// order of the data. It is valid until the next prediction.
func (p *Predictor) Neighbours() []int { return p.ids }

// Weights returns the weights of the data last used, in the order of Neighbours.
func (p *Predictor) Weights() []float64 { return p.solver.Weights() }

// LeftOut lists the drifts that the last prediction did without, see [Solver.LeftOut].
func (p *Predictor) LeftOut() []int { return p.solver.LeftOut() }

// predict leaves out the datum of index skip, if any. The point is reduced.
func (p *Predictor) predict(at XY, skip int, drift []float64) (Estimate, error) {
	if !at.Finite() {
		return Estimate{}, variogram.ErrNotFinite
	}
	p.gather(at, skip)
	if need := p.local.hood.AtLeast; len(p.ids) < need {
		return Estimate{}, &TooFewError{Have: len(p.ids), Need: need}
	}
	e, err := p.solver.Solve(p.data, at, drift...)
	if err != nil {
		return Estimate{}, p.named(err)
	}
	return e, nil
}

// gather collects the neighbours of a reduced point.
func (p *Predictor) gather(at XY, skip int) {
	hood := p.local.hood
	p.data, p.ids = p.data[:0], p.ids[:0]
	found := p.query.Nearest(at.X, at.Y, hood.candidates(), skip, hood.limit())
	if hood.Sectors < 2 {
		for _, f := range found {
			p.take(f)
		}
		return
	}
	p.sides.reset()
	for _, f := range found {
		d := &p.local.data[f.At]
		p.sides.add(hood.sector(XY{X: d.X - at.X, Y: d.Y - at.Y}))
	}
	for _, k := range p.sides.keep(hood) {
		p.take(found[k])
	}
}

func (p *Predictor) take(f near.Found) {
	p.data = append(p.data, p.local.data[f.At])
	p.ids = append(p.ids, p.local.tree.Order()[f.At])
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
