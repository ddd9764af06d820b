package livehole

import "waterstrike/geo"

// Water says where water will be met.
type Water struct {
	Met    bool             `json:"met"`
	P10M   geo.Opt[float64] `json:"p10M,omitzero"` // one hole in ten meets it above this depth; missing where it is not met
	P50M   geo.Opt[float64] `json:"p50M,omitzero"`
	P90M   geo.Opt[float64] `json:"p90M,omitzero"`
	Within [3]float64       `json:"within"` // chance that it is met in the next 1, 2 and 5 m
	RestM  [3]float64       `json:"restM"`  // where it rests today: P10, P50, P90 of the pack's levels
}

// ahead are the distances that answers speak of, in cells: 1, 2 and 5 m.
var ahead = [3]int{2, 4, 10}

// waterAhead follows the pooled chain of every level to the first cell below the water
// that lets it in.
func (p *Pack) waterAhead(h *hole, month int, looks []outlook) Water {
	out := Water{Met: h.strike >= 0, RestM: p.rest(month, looks)}
	if out.Met {
		return out
	}
	met := make([]float64, p.Cells)
	for i := range looks {
		today, at := p.Level.Today[month-1][i], looks[i].bottom
		for z := h.cells; z < p.Cells; z++ {
			next := looks[i].onward(z, &at)
			for k, q := range next {
				if middleM(z) > today && p.gives(k) {
					met[z] += looks[i].weight * q
					next[k] = 0
				}
			}
			at = next
		}
	}
	for i, cells := range ahead {
		for z := h.cells; z < min(h.cells+cells, p.Cells); z++ {
			out.Within[i] += met[z]
		}
	}
	out.P10M, out.P50M, out.P90M = quantile(met, 0.1), quantile(met, 0.5), quantile(met, 0.9)
	return out
}

// onward returns the odds of a cell from those of the cell above it.
func (o *outlook) onward(z int, above *row) (below row) {
	if z == 0 {
		return o.odds[0]
	}
	for j, p := range above {
		for k, q := range &o.steps[z][j] {
			below[k] += p * q
		}
	}
	return below
}

// quantile is the middle of the cell by which a share has met water.
func quantile(met []float64, share float64) (depth geo.Opt[float64]) {
	sum := 0.0
	for z, p := range met {
		if sum += p; sum >= share {
			return geo.Some(middleM(z))
		}
	}
	return depth
}

// rest are the levels of today below which 10, 50 and 90 % of the chance lies.
func (p *Pack) rest(month int, looks []outlook) (out [3]float64) {
	for i, share := range [3]float64{0.1, 0.5, 0.9} {
		sum := 0.0
		for level := range looks {
			out[i] = p.Level.Today[month-1][level]
			if sum += looks[level].weight; sum >= share {
				break
			}
		}
	}
	return out
}
