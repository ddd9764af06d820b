package strata

import (
	"math/rand/v2"

	"waterstrike/geo/soil"
)

// odds returns what a log says of every cell: certainty where it was described, the
// region's transitions below its end, and the region's first layer where it never starts.
func (m *Model) odds(log Log) *Odds {
	var out Odds
	row, cells := m.first, log.cells()
	last := lastKnown(cells)
	for i := range out {
		switch {
		case i < len(cells) && cells[i] != soil.Unknown:
			row = certain(cells[i])
		case i == last+1 && last >= 0:
			row = m.moves.after(cells[last], log.Refused)
		case i > 0:
			row = m.moves.forward(row)
		}
		out[i] = row
	}
	return &out
}

func (t transitions) forward(row [soil.Count]float64) (next [soil.Count]float64) {
	for k, p := range row {
		if p == 0 {
			continue
		}
		for j, q := range t.step[k] {
			next[j] += p * q
		}
	}
	return next
}

func certain(class soil.Class) (row [soil.Count]float64) {
	row[class-1] = 1
	return row
}

// lastKnown returns the place of the deepest described cell, -1 when there is none.
func lastKnown(cells []soil.Class) int {
	for i := len(cells) - 1; i >= 0; i-- {
		if cells[i] != soil.Unknown {
			return i
		}
	}
	return -1
}

// Complete draws one full column that agrees with the log where it was described.
func (m *Model) Complete(log Log, rng *rand.Rand) Column {
	var out Column
	cells := log.cells()
	last := lastKnown(cells)
	for i := range out {
		switch {
		case i < len(cells) && cells[i] != soil.Unknown:
			out[i] = cells[i]
		case i == 0:
			out[i] = draw(m.first, rng)
		case i == last+1:
			out[i] = draw(m.moves.after(out[i-1], log.Refused), rng)
		default:
			out[i] = draw(m.moves.step[out[i-1]-1], rng)
		}
	}
	return out
}
