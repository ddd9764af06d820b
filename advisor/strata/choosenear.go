package strata

import (
	"context"
)

// chooseNear chooses which logs are taken as they are, and returns the score.
func (m *Model) chooseNear(ctx context.Context, trials []trial, cells float64) float64 {
	tried := m.nearChoices()
	scores := make([]float64, len(tried))
	for i, c := range tried {
		if c.spot == 0 {
			scores[i] = spotNats
		}
	}
	for _, t := range trials {
		if ctx.Err() != nil {
			return 0
		}
		by, count := m.localChain(t.around, len(t.cells))
		m.region.spare.Put(count)
		local := t.found(by.odds())
		said := make([][]float64, len(t.near))
		for i, n := range t.near[:min(closest, len(t.near))] {
			if n.Log.Described() {
				one := m.continued(n.Log, t.read[i].layers, by)
				said[i] = t.found(one.odds())
			}
		}
		for i := range tried {
			for _, p := range tried[i].mixed(t.around, said, local) {
				scores[i] += score(p)
			}
		}
	}
	best := firstBest(scores, noDifference*cells)
	m.choice = tried[best]
	return scores[best]
}

// spotNats is how much better held-out logs must be told without a weight of the very spot:
// that one place has one ground is believed twenty to one beforehand.
const spotNats = 3.0

// nearChoices are the choices to try, the local chain being chosen.
func (m *Model) nearChoices() (out []choice) {
	for _, nearM := range nearRange {
		for _, rest := range rests {
			for _, spot := range spots {
				for _, apart := range aparts {
					c := m.choice
					c.nearM, c.rest, c.spot, c.nearApart = nearM, rest, spot, apart
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// mixed joins what logs say as they are with what the local chain says.
func (c *choice) mixed(a *around, said [][]float64, local []float64) []float64 {
	out, total := make([]float64, len(local)), c.rest
	for z, p := range local {
		out[z] = c.rest * p
	}
	for i, w := range c.close(a) {
		if w < leastWeight {
			continue
		}
		total += w
		for z, p := range said[i] {
			out[z] += w * p
		}
	}
	for z := range out {
		out[z] /= total
	}
	return out
}

// localChain is the chain at a point with what it was counted on.
func (m *Model) localChain(a *around, cells int) (*chain, *counted) {
	count := m.region.count(a, a.weights(m.rangeM, m.apart), m.over, cells)
	return m.region.local(count, m.regional), count
}
