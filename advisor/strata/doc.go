// Package strata says which layers to expect at a point, from the logs around it.
//
// Every log is a column of half-metre cells. A log that ends above the model's depth is
// continued by the region's own transitions between layers; a log that ended because the
// bit was refused is continued by ground that refuses bits. The statement at a point is a
// mixture of continued logs, near ones weighing more, with a share for the region as a
// whole that takes over where evidence thins.
//
// Mixing whole logs, rather than cells on their own, keeps the thickness and the order of
// layers as they were found.
package strata

import "waterstrike/geo/soil"

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
}

// cells are those that the model reads.
func (log Log) cells() []soil.Class { return log.Cells[:min(len(log.Cells), Cells)] }

// Described reports that a log names any class within the model's depth.
func (log Log) Described() bool { return lastKnown(log.cells()) >= 0 }
