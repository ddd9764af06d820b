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

// chooseSharp chooses the power by the held-out logs that stand alone.
func (m *Model) chooseSharp(ctx context.Context, trials []trial) {
	scores := make([]float64, len(sharps))
	for _, t := range trials {
		if ctx.Err() != nil {
			return
		}
		if !t.alone {
			continue
		}
		blunt := m.state(t.around, Cells) // all of them: the power works through every cell
		for i, power := range sharps {
			s := *blunt
			s.parts = slices.Clone(blunt.parts)
			s.sharpen(power)
			scores[i] += t.score(s.Odds[:len(t.cells)])
		}
	}
	m.sharp = sharps[firstBest(scores, 0)]
}
