package strata

import (
	"math/rand/v2"

	"waterstrike/geo/soil"
)

// transitions is the region's habit of putting one layer on another.
//
//	T = (1-q) I + q J,
//
// with q the chance that a layer ends within a cell and J the class that follows it. Both
// are counted on described intervals: counting cells would take a thick layer for many.
type transitions struct {
	step [soil.Count][soil.Count]float64 // T, rows add up to 1
	jump [soil.Count][soil.Count]float64 // J, rows add up to 1, diagonal 0
}

// interval is a run of one class in a log.
type interval struct {
	class soil.Class
	cells int
	ended bool // another described layer follows
}

// countTransitions learns from every log. Each class is given half an interval of each
// other class, in proportion to how often that class starts a layer, so that what was
// never seen stays possible; a class without any closed interval is taken as 3 m thick.
func countTransitions(logs []Log) transitions {
	var starts [soil.Count]float64
	var follows [soil.Count][soil.Count]float64
	var closed, cells [soil.Count]float64
	for _, log := range logs {
		runs := intervals(log.cells())
		for i, run := range runs {
			k := run.class - 1
			starts[k]++
			cells[k] += float64(run.cells)
			if run.ended {
				closed[k]++
				follows[k][runs[i+1].class-1]++
			}
		}
	}
	return blend(starts, follows, closed, cells)
}

func blend(starts [soil.Count]float64, follows [soil.Count][soil.Count]float64, closed, cells [soil.Count]float64) transitions {
	const (
		priorJumps = 0.5
		priorCells = 3 / CellM
	)
	var t transitions
	for k := range soil.Count {
		share := 0.0
		for j := range soil.Count {
			if j != k {
				share += starts[j] + 0.1
			}
		}
		total := 0.0
		for j := range soil.Count {
			if j != k {
				t.jump[k][j] = follows[k][j] + priorJumps*(starts[j]+0.1)/share
				total += t.jump[k][j]
			}
		}
		end := (closed[k] + 1) / (cells[k] + priorCells)
		for j := range soil.Count {
			t.jump[k][j] /= total
			t.step[k][j] = end * t.jump[k][j]
		}
		t.step[k][k] = 1 - end
	}
	return t
}

// intervals splits cells into runs of one known class; an undescribed cell closes a run
// without saying what follows.
func intervals(cells []soil.Class) []interval {
	var runs []interval
	for i, class := range cells {
		if class == soil.Unknown {
			continue
		}
		if i > 0 && len(runs) > 0 && cells[i-1] == class {
			runs[len(runs)-1].cells++
			continue
		}
		if i > 0 && len(runs) > 0 && cells[i-1] != soil.Unknown {
			runs[len(runs)-1].ended = true
		}
		runs = append(runs, interval{class: class, cells: 1})
	}
	return runs
}

// refusal is P(the bit is refused | class): how readily each class stops hand tools.
// Common practice, no source; it only ranks the classes where a refused log goes on.
func refusal(k int) float64 {
	switch soil.Class(k + 1) {
	case soil.Rock:
		return 1
	case soil.FracturedRock, soil.Hardpan:
		return 0.8
	case soil.WeatheredRock, soil.Gravel:
		return 0.3
	default:
		return 0.03
	}
}

// after returns the odds of the cell that follows a log's last known cell.
func (t transitions) after(last soil.Class, refused bool) [soil.Count]float64 {
	odds := t.step[last-1]
	if !refused {
		return odds
	}
	total := 0.0
	for k := range odds {
		odds[k] *= refusal(k)
		total += odds[k]
	}
	for k := range odds {
		odds[k] /= total
	}
	return odds
}

func draw(odds [soil.Count]float64, rng *rand.Rand) soil.Class {
	u := rng.Float64()
	for k, p := range odds {
		if u -= p; u < 0 {
			return soil.Class(k + 1)
		}
	}
	return heaviest(odds)
}

func heaviest(odds [soil.Count]float64) soil.Class {
	best := 0
	for k, p := range odds {
		if p > odds[best] {
			best = k
		}
	}
	return soil.Class(best + 1)
}
