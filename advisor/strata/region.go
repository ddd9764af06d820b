package strata

import "sync"

// region is what holds of the whole region: its chain, and what refuses which method.
type region struct {
	chain
	refusals
	spare sync.Pool // of *counted, which are large
}

// The region's steps are counted over widening ranges of depth: where the narrow one has
// met little the wider one takes over, and beyond all the habits of every depth. Chosen by
// block-held-out log score on invented regions that are not among those reported.
var ranks = [...]struct {
	cells float64 // over which counts are smoothed
	worth float64 // counts that the next wider range is worth
}{{24, 5}, {8, 5}, {1, 20}}

// rounds of expectation and maximisation: the refusals move little after.
const rounds = 4

// regionOf fits the region's chain and refusals together by expectation and maximisation.
//
// A chain whose logs end is fitted by the transitions of the parts that were described:
// that a crew stops once it has found water depends on the layers it has seen, so the
// layers below are missing at random and add nothing to the likelihood (Rubin 1976). A
// refusal does: the class below the end is weighed by P(refusal | class, method), which is
// re-estimated from those weights.
//
//   - Shapes: layers[i] are the intervals of logs[i].
//   - Cost: a few passes over all intervals.
//   - Source: Dempster, Laird and Rubin (1977).
//   - Checked by: TestProfileBelowTheSurvivors, TestRefusalIsLearned.
func regionOf(logs []Log, layers [][]interval) *region {
	habit := habits(layers)
	all := make([]*matrix, Cells)
	for z := range all {
		all[z] = habit
	}
	r := &region{chain: chain{first: surface(logs), step: all}}
	described := countAll(layers)
	for range rounds {
		d, e := *described, experience{}
		for i, log := range logs {
			if len(layers[i]) == 0 {
				continue
			}
			e.pass(log, layers[i])
			if by := r.refusedBy(log, r.step); by.odds != nil {
				d.addRow(by.above, by.cell, by.odds, 1)
				e.refuse(log, by.odds)
			}
		}
		r.step, r.refusals = d.ranked(all), e.refusals()
	}
	return r
}

// countAll counts every log once.
func countAll(layers [][]interval) *tally {
	t := new(tally)
	for _, log := range layers {
		t.addLog(log, 1)
	}
	return t
}

// ranked turns counts into steps, the widest range of depth first.
func (t *tally) ranked(prior []*matrix) []*matrix {
	for _, rank := range ranks {
		smooth := *t
		smooth.smooth(newKernels(everywhere(rank.cells)), Cells)
		prior = smooth.chain(prior, everywhere(rank.worth), Cells)
	}
	return prior
}

func (e experience) pass(log Log, layers []interval) {
	of := e.of(log.Method)
	for _, layer := range layers {
		of.passed[layer.class-1] += float64(layer.to - layer.from)
	}
}

func (e experience) refuse(log Log, odds *row) {
	of := e.of(log.Method)
	for k, p := range odds {
		of.refused[k] += p
	}
}

// refusedBy returns what refused the bit at a log's end.
func (r *region) refusedBy(log Log, step []*matrix) refusal {
	last := log.last()
	if !log.Refused || last < 0 || last+1 >= len(step) {
		return refusal{}
	}
	cell, above := last+1, int(log.Cells[last]-1)
	by := stoppedUnder(r.of(log.Method), &step[cell][above])
	return refusal{cell, above, &by}
}
