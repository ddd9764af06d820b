package strata

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Seen is what a hole under way has shown, cell by cell from the surface.
type Seen struct {
	Classes     []soil.Class       // Unknown where nobody looked
	MinutesPerM []geo.Opt[float64] // how fast the bit went
	StrikeM     geo.Opt[float64]   // where water first entered
}

// leastLikely keeps what is seen from ruling any class out: odds are floored there.
const leastLikely = 1e-3

// Given returns the statement after a hole has shown something of its own: logs that agree
// with it weigh more, and every part goes on from it.
//
//   - Domain: nothing seen returns the same odds. What lies below the model's depth is not
//     read.
//   - Errors: none.
//   - Cost: parts · seen cells · classes².
//   - Source: Bayes; each part by Rabiner (1989), its weight by how likely it made what
//     was seen.
//   - Checked by: TestGivenTheHole, TestGivenIsBruteForce.
func (s *Statement) Given(seen Seen) *Statement {
	out := &Statement{Logs: s.Logs, split: s.split, parts: append([]part(nil), s.parts...)}
	out.given(seen.likelihood())
	return out
}

// given weighs every column by likelihoods of its upper cells. The local chain goes first:
// the logs, below what they found, go on as it does.
func (s *Statement) given(likelihood []row) {
	total := 0.0
	var local *passed
	for i := len(s.parts) - 1; i >= 0; i-- {
		p := &s.parts[i]
		posterior, evidence, pass := p.given(likelihood, local)
		if local == nil {
			local = pass
		}
		p.chain = posterior
		p.share *= evidence
		total += p.share
	}
	for i := range s.parts {
		s.parts[i].share /= total
	}
	s.sum()
}

// likelihood returns how likely each class makes what each cell has shown.
func (s Seen) likelihood() []row {
	log := Log{Cells: s.Classes}
	out := make([]row, min(Cells, max(len(s.Classes), len(s.MinutesPerM), int(s.StrikeM.Or(-1)/CellM)+1)))
	for z := range out {
		out[z] = flat()
	}
	for _, layer := range log.intervals() {
		// A layer is misnamed once, not in each of its cells.
		once := 1 / float64(layer.to-layer.from)
		for z := layer.from; z < layer.to; z++ {
			for k, other := range soil.Known() {
				out[z][k] *= math.Pow(max(meant(other)[layer.class-1], leastLikely), once)
			}
		}
	}
	for z, minutes := range s.MinutesPerM[:min(len(s.MinutesPerM), Cells)] {
		if m, ok := minutes.Get(); ok && m > 0 {
			weigh(&out[z], paced(m))
		}
	}
	if at, ok := s.StrikeM.Get(); ok && at >= 0 && int(at/CellM) < len(out) {
		weigh(&out[int(at/CellM)], struck)
	}
	return out
}

func weigh(likelihood *row, by row) {
	for k := range likelihood {
		likelihood[k] *= by[k]
	}
}

// struck is how readily water enters from each class.
// Common practice, no source.
var struck = row{
	soil.Topsoil - 1: 0.1, soil.Clay - 1: 0.1, soil.Silt - 1: 0.3, soil.Sand - 1: 1, soil.Gravel - 1: 1,
	soil.Hardpan - 1: 0.1, soil.WeatheredRock - 1: 1, soil.FracturedRock - 1: 1, soil.Rock - 1: 0.1,
}

// usualMinutes is how long hand tools take for a metre of each class, and paceSpread the
// spread of its logarithm between crews, tools and days. Common practice, no source.
var usualMinutes = row{
	soil.Topsoil - 1: 20, soil.Clay - 1: 40, soil.Silt - 1: 30, soil.Sand - 1: 30, soil.Gravel - 1: 60,
	soil.Hardpan - 1: 240, soil.WeatheredRock - 1: 120, soil.FracturedRock - 1: 400, soil.Rock - 1: 1000,
}

const paceSpread = 0.8

// paced returns how likely each class makes a pace, as seen in one of a metre's cells.
func paced(minutes float64) (out row) {
	for k, usual := range usualMinutes {
		off := math.Log(minutes/usual) / paceSpread
		out[k] = max(math.Exp(-0.5*off*off*CellM), leastLikely)
	}
	return out
}
