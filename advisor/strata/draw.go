package strata

import (
	"math/rand/v2"

	"waterstrike/geo/soil"
)

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
// Each chain is drawn in proportion to its share, so that no column weighs much more than
// another and none is luck that decides. The columns of one chain are drawn together, step by
// step: of those in one class as many go on to each class as its odds say, to within one; which
// ones is left to chance. So a few tell as much as many drawn one by one.
//
//   - Shapes: most columns of a chain with half of the share or more, at least one of each;
//     twice as many in all and no more than one a log besides.
//   - Cost: Cells draws a column.
//   - Source: systematic sampling, Madow (1949), within each state of the chain; strata in
//     proportion, Cochran (1977), chapter 5, from memory.
//   - Checked by: TestDrawsHaveTheOdds, TestDrawsAreEven, TestDrawsFollowTheShares.
func (s *Statement) Draw(most int, rng *rand.Rand) []Drawn {
	out := make([]Drawn, 0, len(s.parts)+2*most)
	for i := range s.parts {
		p := &s.parts[i]
		out = s.drawn(out, p, min(max(int(2*float64(most)*p.share+0.5), 1), most), func(columns []Drawn) { p.drawEvenly(columns, rng) })
	}
	return out
}

// DrawBy draws so many columns of each log and others of the local chain, or of a log that says
// most of all, each by itself and by random numbers of its own: of the k-th
// one that continues a log, -1 for the local chain. With the same numbers, statements that
// are alike give columns that are alike.
//
//   - Shapes: perLog and others at least 1.
//   - Cost, Checked by: as Draw.
func (s *Statement) DrawBy(perLog, others int, by func(near, k int) *rand.Rand) []Drawn {
	out := make([]Drawn, 0, perLog*len(s.parts)+2*others)
	for i := range s.parts {
		p, n := &s.parts[i], perLog
		if p.near == rest || p.share > 0.5 {
			n = others
		}
		out = s.drawn(out, p, n, func(columns []Drawn) {
			for k := range columns {
				p.draw(columns[k].Column[:], by(p.near, k))
			}
		})
	}
	return out
}

// drawn appends n columns of a part, filled.
func (s *Statement) drawn(out []Drawn, p *part, n int, fill func(columns []Drawn)) []Drawn {
	from := len(out)
	for range n {
		out = append(out, Drawn{Near: p.near, Weight: s.Logs * p.share / float64(n)})
	}
	fill(out[from:])
	return out
}

// drawEvenly fills columns with draws of one chain, as [Statement.Draw] says.
func (c *chain) drawEvenly(columns []Drawn, rng *rand.Rand) {
	all, in := make([]int, len(columns)), [soil.Count][]int{}
	room := make([]int, soil.Count*len(columns))
	for i := range all {
		all[i] = i
	}
	for k := range in {
		in[k] = room[k*len(columns):][:0:len(columns)]
	}
	spread(columns, all, 0, &c.first, rng)
	for z := 1; z < len(c.step); z++ {
		if c.step[z] == nil {
			for i := range columns {
				columns[i].Column[z] = columns[i].Column[z-1]
			}
			continue
		}
		for k := range in {
			in[k] = in[k][:0]
		}
		for i := range columns {
			above := columns[i].Column[z-1] - 1
			in[above] = append(in[above], i)
		}
		for k, which := range in {
			if len(which) > 0 {
				spread(columns, which, z, &c.step[z][k], rng)
			}
		}
	}
}

// spread gives a class to cell z of those columns, to as many of them each as its odds say.
func spread(columns []Drawn, which []int, z int, odds *row, rng *rand.Rand) {
	for i := len(which) - 1; i > 0; i-- { // rng.Shuffle, which calls for each
		j := rng.IntN(i + 1)
		which[i], which[j] = which[j], which[i]
	}
	n := float64(len(which))
	k, upTo, first := 0, odds[0], rng.Float64()
	for i, column := range which {
		for (float64(i)+first)/n >= upTo && k < len(odds)-1 {
			k++
			upTo += odds[k]
		}
		class := soil.Class(k + 1)
		if odds[k] == 0 { // rounding left nothing over
			class = heaviest(*odds)
		}
		columns[column].Column[z] = class
	}
}
