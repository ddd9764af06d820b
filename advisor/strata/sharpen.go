package strata

import (
	"context"
	"math"
	"slices"
)

// sharps are the powers of the odds that are tried; 0 leaves the statement as it is.
var sharps = [...]float64{0, 0.015, 0.03, 0.05, 0.08, 0.12, 0.16}

// sharpen weighs every column by what all parts of the statement say together,
//
//	p'(k₁..kₙ) ∝ p(k₁..kₙ) Π p(k_z)^(w c (1-r)),
//
// with c the share of the local chain and r that of the region as a whole: where a log of
// the spot speaks, or nobody does, the statement stays as it is.
//
// Logs hold names, and crews misname: a chain that is counted on names is blurred by as
// much, and by columns half of one kind of ground and half of another, which no bore finds.
// A power of the odds takes both back; how large it is, is chosen by held-out logs. The
// shares of the logs, which tell who was heard, stay.
//
//   - Domain: a power of 0 changes nothing.
//   - Cost: parts · Cells · classes².
//   - Source: powers of a log-linear pool, Allard et al. (2012).
//   - Checked by: TestSharpened.
func (s *Statement) sharpen(power float64) {
	power *= s.parts[len(s.parts)-1].share * (1 - s.Regional)
	if power == 0 {
		return
	}
	likelihood, least := make([]row, len(s.parts[0].step)), math.Exp(power*math.Log(leastLikely))
	for z := range likelihood {
		for k, p := range s.Odds[z] {
			likelihood[z][k] = least
			if p > leastLikely {
				likelihood[z][k] = math.Exp(power * math.Log(p))
			}
		}
	}
	heard, regional := s.Shares, s.Regional
	s.given(likelihood)
	s.Shares, s.Regional = heard, regional
}

// sharper is a copy of the statement, sharpened.
func (s *Statement) sharper(power float64) *Statement {
	out := *s
	out.parts = slices.Clone(s.parts)
	out.sharpen(power)
	return &out
}

// Named returns, for every cell, the odds of what a crew would call it: what a log at the
// point will hold. [Statement.Odds] are those of the ground, in which bores are tried: a crew
// that misnames a layer parts it from its column, so that cells by themselves are told best
// by odds that are less sharp than the columns are.
//
//   - Units: odds of [0,1], each row adding up to 1.
//   - Domain: of a hole under way, whose crew has named its own layers, they are the odds.
//   - Source: as [Model.At], with a power of its own.
//   - Checked by: TestNamedIsLessSharp.
func (s *Statement) Named() Odds {
	if s.blunt == nil {
		return s.Odds
	}
	return s.blunt.sharper(s.namedBy).Odds
}

// chooseSharp chooses the powers by the held-out logs that stand alone: of columns, by whole
// layers, and of names, by cells.
func (m *Model) chooseSharp(ctx context.Context, trials []trial) {
	columns, names := make([]float64, len(sharps)), make([]float64, len(sharps))
	for _, t := range trials {
		if ctx.Err() != nil {
			return
		}
		if !t.alone {
			continue
		}
		blunt := m.state(t.around, Cells) // all of them: the power works through every cell
		for i, power := range sharps {
			odds := blunt.sharper(power).Odds[:len(t.cells)]
			columns[i] += t.score(odds)
			for _, p := range t.found(odds) {
				names[i] += score(p)
			}
		}
	}
	m.sharp, m.namedBy = sharps[firstBest(columns, 0)], sharps[firstBest(names, 0)]
}
