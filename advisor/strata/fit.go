package strata

import (
	"context"
	"errors"
	"fmt"

	"waterstrike/geo/soil"
)

// ErrTooFewLogs says that there are not enough described logs for a layer statement.
var ErrTooFewLogs = errors.New("strata: fewer than 5 described logs: a layer statement needs more")

// minLogs is the least number of described logs.
const minLogs = 5

// ClassError is a cell that names no class there is.
type ClassError struct {
	Log, Cell int // places, from 0
	Class     soil.Class
}

// Error says which cell of which log.
func (e *ClassError) Error() string {
	return fmt.Sprintf("strata: log %d, cell %d: class %d is none of the %d known ones: read the words again", e.Log, e.Cell, e.Class, soil.Count)
}

// Near is a log and how far it stands from the point asked about.
type Near struct {
	Log       Log
	DistanceM float64
	read      *reading // of a log that was read before
}

// Neighbours returns the nearest described logs of log i that stand farther than beyondM
// from it, itself left out, nearest first. They may be others than those given to Fit: an
// answer reads them all.
type Neighbours func(i int, beyondM float64) []Near

// Report says how the model was chosen.
type Report struct {
	Logs     int       `json:"logs"`     // described logs
	RangeM   float64   `json:"rangeM"`   // distance at which a log's weight in the local chain has fallen to 1/e
	Regional []float64 `json:"regional"` // weight of the region in it to 10, to 20 and to 40 m, in logs at distance 0
	SmoothM  []float64 `json:"smoothM"`  // depth over which its counts are smoothed, likewise
	Apart    float64   `json:"apart"`    // how much a difference of setting counts
	NearM    float64   `json:"nearM"`    // range of the logs that are taken as they are
	Rest     float64   `json:"rest"`     // weight of the local chain beside them, in logs at distance 0
	Sharp    float64   `json:"sharp"`    // power of the odds that columns are weighed by
	Named    float64   `json:"named"`    // the same for the odds of what a crew would call a cell
	Spot     float64   `json:"spot"`     // weight of a log of the very spot, as a multiple of all else
	LogScore float64   `json:"logScore"` // held-out, nats per cell, at the choice
	Profile  float64   `json:"profile"`  // the same for the regional profile alone
	Tried    int       `json:"tried"`    // logs held out
}

// Model is a fitted statement about a region's layers. It is never changed after Fit and
// safe for concurrent use.
type Model struct {
	region  *region
	follows forest
	profile Odds
	names   names
	choice
}

// Fit learns the region's chain from logs, and chooses how the logs around a point change
// it by the log score of logs that are held out together with those close to them.
//
//   - Shapes: logs of any number and length, read down to the model's depth; near gives
//     the neighbours of a log.
//   - Units: distances in metres; scores in nats per described cell.
//   - Errors: [ErrTooFewLogs]; [ClassError] for a cell of a class that does not exist; the
//     context's error when it ends, within a held-out log.
//   - Cost: O(logs · Cells) plus 200 held-out logs against their neighbours.
//   - Source: Gneiting and Raftery (2007) for the logarithmic score; Roberts et al. (2017)
//     for hiding what stands close.
//   - Checked by: TestNearLogsBeatTheProfile, TestLayersFollowTheLand, TestBadLogs.
func Fit(ctx context.Context, logs []Log, near Neighbours) (*Model, Report, error) {
	layers := make([][]interval, len(logs))
	described := 0
	for i, log := range logs {
		if cell := log.unreadable(); cell >= 0 {
			return nil, Report{}, &ClassError{i, cell, log.Cells[cell]}
		}
		if layers[i] = log.intervals(); len(layers[i]) > 0 {
			described++
		}
	}
	if described < minLogs {
		return nil, Report{Logs: described}, ErrTooFewLogs
	}
	m := &Model{region: regionOf(logs, layers), follows: forestOf(logs), names: newNames()}
	copy(m.profile[:], m.region.odds())
	report := m.choose(ctx, logs, described, near)
	report.Logs = described
	if err := ctx.Err(); err != nil {
		return nil, report, err
	}
	return m, report, nil
}

// unreadable returns the first cell of a class that does not exist, -1 when there is none.
func (log Log) unreadable() int {
	for i, class := range log.cells() {
		if class > soil.Count {
			return i
		}
	}
	return -1
}

// Profile returns the regional profile: what is said far from every log.
func (m *Model) Profile() Odds { return m.profile }

// reachRanges is how many ranges away a log still counts as evidence: its weight is
// below 5 % beyond.
const reachRanges = 3

// ReachM is the distance beyond which a log no longer counts as evidence, metres.
func (m *Model) ReachM() float64 { return reachRanges * m.rangeM }
