package krige

import (
	"math"

	"waterstrike/advisor/variogram"
)

// load checks the data and lays them out by column: terms, then values, with room
// for a target.
func (s *Solver) load(data []Datum) error {
	n, q := len(data), len(s.beta)
	if n < max(1, q) {
		return &TooFewError{Have: n, Need: max(1, q)}
	}
	s.x, s.y, s.errVar = grow(s.x, n), grow(s.y, n), grow(s.errVar, n)
	s.rhs = grow(s.rhs, (q+2)*n)
	s.shift = s.trend.Mean()
	if q > 0 {
		s.shift = data[0].Value // any constant will do; one near the values saves digits
	}
	for i := range data {
		d := &data[i]
		if err := d.check(); err != nil {
			return err
		}
		if err := s.checkDrift(d.Drift); err != nil {
			return err
		}
		s.x[i], s.y[i], s.errVar[i] = d.X, d.Y, d.ErrVar
		s.trend.Row(s.nu, d.Drift)
		for k, v := range s.nu {
			s.rhs[k*n+i] = v
		}
		s.rhs[q*n+i] = d.Value - s.shift
	}
	s.l.resize(n)
	s.standardise()
	return nil
}

// steady is how little a drift must vary, as a part of its own size, to count as not
// varying: some thousand times its rounding.
const steady = 1e-12

// standardise centres and scales every term but the constant.
func (s *Solver) standardise() {
	for k := range s.nu {
		s.centre[k], s.scale[k] = 0, 1
		if k == 0 {
			continue
		}
		row, sum, most := s.row(k), 0.0, 0.0
		for _, v := range row {
			sum += v
		}
		s.centre[k] = sum / float64(len(row))
		for i := range row {
			row[i] -= s.centre[k]
			most = max(most, math.Abs(row[i]))
		}
		switch {
		case most > steady*math.Abs(s.centre[k]):
			s.scale[k] = 1 / most
		default:
			s.scale[k] = 0
		}
		for i := range row {
			row[i] *= s.scale[k]
		}
	}
}

// fillCov sets the covariances between data, error variances on the diagonal.
func (s *Solver) fillCov() error {
	n := s.l.n
	s.h = grow(s.h, len(s.l.a))
	at := 0
	for i := range n {
		xi, yi := s.x[i], s.y[i]
		h, ys := s.h[at:at+i], s.y[:i]
		for j, xj := range s.x[:i] {
			dx, dy := xi-xj, yi-ys[j]
			d := math.Sqrt(dx*dx + dy*dy)
			if d == 0 && s.errVar[i] == 0 && s.errVar[j] == 0 {
				return &DuplicateError{I: j, J: i}
			}
			h[j] = d
		}
		s.h[at+i] = 0
		at += i + 1
	}
	clear(s.l.a)
	s.model.AddCov(s.l.a, s.h)
	for i := range n {
		s.l.row(i)[i] += s.errVar[i]
	}
	return nil
}

// sweepTerms multiplies terms and values by L⁻¹, in pairs.
func (s *Solver) sweepTerms() {
	n, rows := s.l.n, len(s.beta)+1
	for k := 0; k < rows; k += 2 {
		if k+1 == rows {
			s.l.sweep(s.row(k), n)
			return
		}
		s.l.sweepPair(s.row(k), s.row(k+1), n)
	}
}

// factorSmall factors G'G and reduces the values against it.
func (s *Solver) factorSmall() error {
	q := len(s.beta)
	values := s.row(q)
	for i := range q {
		gi := s.row(i)
		for j := range i + 1 {
			s.small.row(i)[j] = dot(gi, s.row(j))
		}
		s.beta[i] = dot(gi, values)
	}
	// The terms' own lengths differ by design, so each pivot is judged against its
	// own diagonal.
	s.leftOut, s.termCondition = s.leftOut[:0], 1
	for i := range q {
		row := s.small.row(i)
		length := row[i]
		s.small.sweep(row, i)
		d := s.small.pivot(row)
		switch {
		case d*variogram.MaxCondition > length:
			s.termCondition = max(s.termCondition, length/d)
		case i > 0 && s.trend.Spares():
			s.leaveOut(i)
		case d > 0:
			return &variogram.ConditionError{Number: length / d}
		default:
			return &variogram.ConditionError{Number: math.Inf(1)}
		}
	}
	s.small.sweep(s.beta, q)
	return nil
}

// leaveOut takes term i out of the system: with a reciprocal pivot of 0, every sweep
// gives it a coefficient of 0 and the others do without it.
func (s *Solver) leaveOut(i int) {
	s.small.row(i)[i], s.small.inv[i] = 1, 0
	s.leftOut = append(s.leftOut, i-1)
}
