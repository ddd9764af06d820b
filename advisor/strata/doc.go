// Package strata says which layers to expect at a point, from the logs around it.
//
// A column of ground is a chain of half-metre cells: which class comes next depends on the
// class above, on the depth and on the place. The region's chain is counted on the
// described intervals of all logs, depth by depth. A log that ended says something: that
// it found water is told by the layers it passed already, that the bit was refused is a
// likelihood of the class below. So the few logs that reach a depth are not taken for all.
//
// At a point the chain is counted anew from the logs around, with the region's chain as its
// prior: near logs weigh more, and so do those on land where like layers may be expected,
// as learnt from how the region's logs follow the shape of its land. The statement is a mixture: the logs close by as they
// were found, each continued below its end by the local chain, and the local chain itself
// for the rest. Far from every log it is the region's profile; beside a log it is that log,
// up to what crews mistake for one another. Every part is a chain, so odds, draws of whole
// columns and what a hole under way has shown are exact. Between those ends columns that all
// parts agree on are preferred, by as much as held-out logs confirm.
package strata

import (
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// CellM is the thickness of a cell in metres, and Cells how many the model holds: to 40 m.
const (
	CellM = 0.5
	Cells = 80
)

// Column holds a class for every cell, from the surface down.
type Column [Cells]soil.Class

// Odds holds, for every cell, the probability of each known class: Odds[i][k-1] is that of
// class k. Each row adds up to 1.
type Odds [Cells][soil.Count]float64

// Log is what one bore says of the layers.
type Log struct {
	Cells   []soil.Class // logged cells from the surface down, read to the model's depth; Unknown where not described
	Refused bool         // the bore ended at ground that its method could not pass
	Method  geo.Method   // by which it was drilled
	Setting Setting      // the shape of the land where it stands
}

// cells are those that the model reads.
func (log Log) cells() []soil.Class { return log.Cells[:min(len(log.Cells), Cells)] }

// Described reports that a log names any class within the model's depth.
func (log Log) Described() bool { return log.last() >= 0 }

// last returns the place of the deepest described cell, -1 when there is none.
func (log Log) last() int {
	cells := log.cells()
	for i := len(cells) - 1; i >= 0; i-- {
		if known(cells[i]) {
			return i
		}
	}
	return -1
}

// known reports that a cell names one of the classes.
func known(class soil.Class) bool { return class != soil.Unknown && class <= soil.Count }

// interval is a run of one known class in a log.
type interval struct {
	class    soil.Class
	from, to int  // cells, to not included
	joined   bool // it follows another described interval without a gap
}

// intervals splits a log into runs of one known class.
func (log Log) intervals() []interval {
	var out []interval
	for i, class := range log.cells() {
		if !known(class) {
			continue
		}
		n := len(out)
		joined := n > 0 && out[n-1].to == i
		if joined && out[n-1].class == class {
			out[n-1].to++
			continue
		}
		out = append(out, interval{class, i, i + 1, joined})
	}
	return out
}
