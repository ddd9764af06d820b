package strata

import (
	"errors"
	"math"
	"slices"

	"waterstrike/geo/soil"
)

// ErrTooFewLogs says that there are not enough described logs for a layer statement.
var ErrTooFewLogs = errors.New("strata: fewer than 5 described logs: a layer statement needs more")

// minLogs is the least number of described logs.
const minLogs = 5

// Near is a log and how far it stands from the point asked about.
type Near struct {
	Log       Log
	DistanceM float64
}

// Neighbours returns the nearest described logs of log i, itself left out, nearest first.
// They may be others than those given to Fit: an answer reads them all.
type Neighbours func(i int) []Near

// Report says how the model was chosen.
type Report struct {
	Logs     int     `json:"logs"`     // described logs
	RangeM   float64 `json:"rangeM"`   // distance at which a log's weight has fallen to 1/e
	Regional float64 `json:"regional"` // weight of the region, in logs at distance 0
	LogScore float64 `json:"logScore"` // held-out, nats per cell, at the choice
	Profile  float64 `json:"profile"`  // the same for the regional profile alone
	Tried    int     `json:"tried"`    // logs held out
}

// Model is a fitted statement about a region's layers. It is never changed after Fit and
// safe for concurrent use.
type Model struct {
	moves    transitions
	first    [soil.Count]float64
	profile  Odds
	rangeM   float64
	regional float64
}

// Fit learns transitions and the regional profile from logs and chooses the weight's
// range and the region's share by the log score of held-out logs.
//
//   - Shapes: logs of any number and length, read down to the model's depth; near gives
//     the neighbours of a log.
//   - Units: distances in metres; scores in nats per described cell.
//   - Errors: [ErrTooFewLogs].
//   - Cost: O(logs · Cells) plus 400 held-out logs against their neighbours.
//   - Source: leave-one-out choice of a kernel's width; Gneiting and Raftery (2007) for
//     the logarithmic score.
func Fit(logs []Log, near Neighbours) (*Model, Report, error) {
	described := 0
	for _, log := range logs {
		if log.Described() {
			described++
		}
	}
	if described < minLogs {
		return nil, Report{Logs: described}, ErrTooFewLogs
	}
	m := &Model{moves: countTransitions(logs), first: firstLayer(logs)}
	m.profile = m.regionalProfile(logs, described)
	report := m.choose(logs, described, near)
	report.Logs = described
	return m, report, nil
}

func firstLayer(logs []Log) (row [soil.Count]float64) {
	total := 0.0
	for _, log := range logs {
		if len(log.Cells) > 0 && log.Cells[0] != soil.Unknown {
			row[log.Cells[0]-1]++
			total++
		}
	}
	for k := range row {
		row[k] = (row[k] + 0.1) / (total + 0.1*soil.Count)
	}
	return row
}

// regionalProfile averages what every log says of every cell, its continuation included:
// the few logs that reach a depth are not taken for all.
func (m *Model) regionalProfile(logs []Log, described int) Odds {
	var out Odds
	for _, log := range logs {
		if !log.Described() {
			continue
		}
		odds := m.odds(log)
		for i := range out {
			for k, p := range odds[i] {
				out[i][k] += p / float64(described)
			}
		}
	}
	return out
}

// The ranges (metres) and regional weights that the held-out logs choose from.
var (
	ranges   = [...]float64{300, 600, 1200, 2500, 5000, 10000, 20000, 40000}
	regional = [...]float64{0.05, 0.15, 0.4, 1, 3}
)

// heldOut is how many logs are held out at most: enough to tell the choices apart.
const heldOut = 400

func (m *Model) choose(logs []Log, described int, near Neighbours) Report {
	var scores [len(ranges)][len(regional)]float64
	profile, cells, tried := 0.0, 0, 0
	stride, passed := max(1, described/heldOut), 0
	for i, log := range logs {
		if !log.Described() {
			continue
		}
		if passed++; (passed-1)%stride > 0 {
			continue
		}
		tried++
		said := m.saidBy(near(i))
		for cell, class := range log.cells() {
			if class == soil.Unknown {
				continue
			}
			cells++
			reg := m.profile[cell][class-1]
			profile += score(reg)
			for a, rangeM := range ranges {
				sum, weight := said.at(cell, class, rangeM)
				for b, r := range regional {
					scores[a][b] += score((sum + r*reg) / (weight + r))
				}
			}
		}
	}
	return m.take(scores, profile, float64(cells), tried)
}

// noDifference is how much worse a longer range may score, in nats per cell: where all logs
// are alike every range does, and a far log is as good as a near one.
const noDifference = 1e-3

func (m *Model) take(scores [len(ranges)][len(regional)]float64, profile, cells float64, tried int) Report {
	best := math.Inf(1)
	for _, row := range scores {
		best = min(best, slices.Min(row[:]))
	}
	a := len(ranges) - 1
	for slices.Min(scores[a][:]) > best+noDifference*cells {
		a--
	}
	b := slices.Index(scores[a][:], slices.Min(scores[a][:]))
	m.rangeM, m.regional = ranges[a], regional[b]
	return Report{
		RangeM: m.rangeM, Regional: m.regional, Tried: tried,
		LogScore: scores[a][b] / cells, Profile: profile / cells,
	}
}

// score is the loss of having said p for what was found, floored as every log score here.
func score(p float64) float64 { return -math.Log(max(p, 1e-4)) }

// said is what the neighbours of a held-out log say.
type said struct {
	odds      []*Odds
	distanceM []float64
}

func (m *Model) saidBy(near []Near) said {
	var s said
	for _, n := range near {
		if n.Log.Described() {
			s.odds = append(s.odds, m.odds(n.Log))
			s.distanceM = append(s.distanceM, n.DistanceM)
		}
	}
	return s
}

func (s said) at(cell int, class soil.Class, rangeM float64) (sum, weight float64) {
	for i, odds := range s.odds {
		w := math.Exp(-s.distanceM[i] / rangeM)
		sum += w * odds[cell][class-1]
		weight += w
	}
	return sum, weight
}
