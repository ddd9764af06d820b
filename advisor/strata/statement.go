package strata

// Statement is what is said of the layers at one point.
type Statement struct {
	Odds     Odds
	Shares   []float64 // of the logs, in the order given, in all that is said
	Regional float64   // share of the region as a whole; with Shares it adds up to 1
	Logs     float64   // how much is known, in logs standing at the point
	parts    []part
	split    []float64  // how the logs share what the local chain says
	blunt    *Statement // as it was before it was sharpened
	namedBy  float64    // by how much it is sharpened for names
}

// part is one chain of the mixture.
type part struct {
	chain
	near  int // place of the log that it continues, rest for the local chain
	share float64
}

const rest = -1

// At states what the logs near a point say together,
//
//	p = (Σᵢ wᵢ pᵢ + r q) / (Σᵢ wᵢ + r),  wᵢ = exp(-dᵢ/a - b sᵢ),
//
// with pᵢ the columns that agree with log i, sᵢ how far apart its setting is from here, and
// q those of the local chain, which all the logs and the region share. A log of the very
// spot outweighs the rest.
//
//   - Shapes: near in order of their distance; here is nil where the land is not known.
//   - Units: metres; weights in logs standing at the point itself.
//   - Domain: no neighbours, or all of them far beyond the range, gives the regional
//     profile exactly. A log without a described cell says nothing.
//   - Errors: none.
//   - Cost: 0.2 ms for 24 neighbours, however many bores there are.
//   - Source: the local chain, counts weighed by a kernel in space, after Carle and Fogg
//     (1996) for transitions of layers; a mixture, so that the thickness and order
//     of layers stay those of logs.
//   - Checked by: TestOddsAddUpToOne, TestFarFromLogsIsTheProfile, TestBesideALogIsThatLog, TestAtABoreIsItsLog,
//     BenchmarkAt.
func (m *Model) At(near []Near, here Setting) *Statement {
	blunt := m.state(m.around(near, here), Cells)
	s := blunt.sharper(m.sharp)
	s.blunt, s.namedBy = blunt, m.namedBy
	return s
}

// state mixes what the logs around say, down to so many cells.
func (m *Model) state(a *around, cells int) *Statement {
	by, count := m.localChain(a, cells)
	close := m.close(a)
	s := &Statement{Logs: count.logs + m.rest, split: count.weights}
	total := m.rest
	for i, w := range close {
		if w >= leastWeight {
			total += w
			s.parts = append(s.parts, part{m.continued(a.near[i].Log, a.read[i].layers, by), i, w})
		}
	}
	s.parts = append(s.parts, part{*by, rest, m.rest})
	for i := range s.parts {
		s.parts[i].share /= total
	}
	for i := range s.split {
		s.split[i] /= count.logs + m.regional[0]
	}
	m.region.spare.Put(count)
	s.sum()
	return s
}

// sum adds the parts up.
func (s *Statement) sum() {
	s.Shares, s.Regional = make([]float64, len(s.split)), 0
	s.sumOdds()
	for i := range s.parts {
		p := &s.parts[i]
		if p.near != rest {
			s.Shares[p.near] += p.share
			continue
		}
		left := 1.0
		for j, of := range s.split {
			s.Shares[j] += p.share * of
			left -= of
		}
		s.Regional += p.share * left
	}
}

// sumOdds adds up the odds of the parts. Each is followed down through the cells that are
// its own; from there on all go on together, by the steps of the local chain.
func (s *Statement) sumOdds() {
	s.Odds = Odds{}
	local := s.parts[len(s.parts)-1].step
	joining := make([]row, len(local))
	for i := range s.parts {
		p := &s.parts[i]
		here, own := p.first, ownCells(p.step, local)
		for z := range own {
			addTimes(&s.Odds[z], &here, p.share)
			if next := p.step[z+1]; next != nil {
				here = next.forward(&here)
			}
		}
		addTimes(&joining[own], &here, p.share)
	}
	var together row
	for z := range local {
		if z > 0 && local[z] != nil {
			together = local[z].forward(&together)
		}
		addTimes(&together, &joining[z], 1)
		addTimes(&s.Odds[z], &together, 1)
	}
}

// addTimes adds so many times the odds.
func addTimes(to, odds *row, times float64) {
	for k, q := range odds {
		to[k] += times * q
	}
}

// Likeliest returns the most probable column of the chain that has the odds of the
// statement and of its pairs of neighbouring cells.
//
//   - Cost: parts · Cells · classes².
//   - Source: Viterbi (1967).
//   - Checked by: TestLikeliest.
func (s *Statement) Likeliest() (out Column) {
	mean := chain{first: s.Odds[0], step: make([]*matrix, Cells)}
	for z := 1; z < Cells; z++ {
		mean.step[z] = new(matrix)
	}
	for i := range s.parts {
		s.parts[i].addPairs(mean.step)
	}
	for z := 1; z < Cells; z++ {
		for j := range mean.step[z] {
			normalise(&mean.step[z][j])
		}
	}
	copy(out[:], mean.likeliest())
	return out
}

// addPairs adds how likely each pair of classes is in two neighbouring cells.
func (p *part) addPairs(pairs []*matrix) {
	odds := p.odds()
	for z := 1; z < len(pairs); z++ {
		t := p.matrixAt(z)
		for j, above := range odds[z-1] {
			for k, q := range &t[j] {
				pairs[z][j][k] += p.share * above * q
			}
		}
	}
}
