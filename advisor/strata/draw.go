package strata

import "math/rand/v2"

// Drawn is one possible column with its weight, in logs standing at the point.
type Drawn struct {
	Column
	Near   int // place of the log that it continues; -1 when it is of no single log
	Weight float64
}

// Draw draws whole columns that together have the odds of the statement: some of each log
// that is taken as it is, and some of the local chain. Thickness and order of layers are
// those of logs and chain. The weights add up to the statement's Logs.
//
//   - Shapes: perLog columns of each log, others of the local chain; both at least 1. A log
//     that says most of all is drawn as often as the chain would be.
//   - Cost: Cells draws a column.
//   - Checked by: TestDrawsHaveTheOdds.
func (s *Statement) Draw(perLog, others int, rng *rand.Rand) []Drawn {
	return s.DrawBy(perLog, others, func(int, int) *rand.Rand { return rng })
}

// DrawBy is Draw with random numbers of each column's own: of the k-th one that continues
// a log, -1 for the local chain. With the same numbers, statements that are alike give
// columns that are alike.
//
//   - Shapes, Cost, Checked by: as Draw.
func (s *Statement) DrawBy(perLog, others int, by func(near, k int) *rand.Rand) []Drawn {
	out := make([]Drawn, 0, perLog*len(s.parts)+2*others)
	for i := range s.parts {
		p, n := &s.parts[i], perLog
		if p.near == rest || p.share > 0.5 {
			n = others
		}
		for k := range n {
			d := Drawn{Near: p.near, Weight: s.Logs * p.share / float64(n)}
			p.draw(d.Column[:], by(p.near, k))
			out = append(out, d)
		}
	}
	return out
}
