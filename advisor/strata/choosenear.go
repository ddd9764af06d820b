package strata

import "context"

// chooseNear chooses which logs are taken as they are, and returns the score.
func (m *Model) chooseNear(ctx context.Context, trials []trial, cells float64) float64 {
	tried := m.nearChoices()
	scores := make([]float64, len(tried))
	for _, t := range trials {
		if ctx.Err() != nil {
			return 0
		}
		by := m.localChain(t.near, t.layers, len(t.cells))
		local := t.found(by.odds())
		said := make([][]float64, len(t.near))
		for i, n := range t.near {
			if n.Log.Described() {
				one := m.continued(n.Log, t.layers[i], by)
				said[i] = t.found(one.odds())
			}
		}
		for i := range tried {
			for _, p := range tried[i].mixed(t.near, said, local) {
				scores[i] += score(p)
			}
		}
	}
	best := firstBest(scores, noDifference*cells)
	m.choice = tried[best]
	return scores[best]
}

// nearChoices are the choices to try, the local chain being chosen.
func (m *Model) nearChoices() (out []choice) {
	for _, nearM := range nearRange {
		for _, rest := range rests {
			for _, spot := range spots {
				c := m.choice
				c.nearM, c.rest, c.spot = nearM, rest, spot
				out = append(out, c)
			}
		}
	}
	return out
}

// found returns the odds given to what was found, for every described cell.
func (t trial) found(odds []row) (out []float64) {
	for z, class := range t.cells {
		if known(class) {
			out = append(out, odds[z][class-1])
		}
	}
	return out
}

// mixed joins what logs say as they are with what the local chain says.
func (c *choice) mixed(near []Near, said [][]float64, local []float64) []float64 {
	out, total := make([]float64, len(local)), c.rest
	for z, p := range local {
		out[z] = c.rest * p
	}
	for i, w := range c.close(near) {
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

func (m *Model) localChain(near []Near, layers [][]interval, cells int) *chain {
	count := m.region.count(near, layers, weights(near, m.rangeM, m.apart), m.over)
	return m.region.local(count, m.regional, cells)
}
