package strata

import (
	"context"
	"math"
	"slices"
)

// What the held-out logs choose from. Where several do as well the first is taken: the
// longest range.
var (
	ranges    = [...]float64{40000, 10000, 5000, 2500, 1200, 600}
	smoothing = [...]float64{8, 4, 2} // cells
	regionals = [...]float64{3, 1, 0.3, 0.1, 0.03, 0.01}
	aparts    = [...]float64{3, 2, 1.5, 1, 0.5, 0}
	nearRange = [...]float64{5000, 2500, 1200, 600, 300}
	rests     = [...]float64{3, 1, 0.4, 0.15}
	spots     = [...]float64{30, 0} // 0 where bores of one spot disagree, such as those set on their village
)

// noDifference is how much worse a longer range may score, in nats per cell: where all logs
// are alike every range does, and a far log is as good as a near one.
const noDifference = 2e-4

func (m *Model) choose(ctx context.Context, logs []Log, described int, near Neighbours) Report {
	trials := m.trials(logs, described, near)
	cells := 0.0
	report := Report{Tried: len(trials)}
	for _, t := range trials {
		for z, class := range t.cells {
			if known(class) {
				cells++
				report.Profile += score(dot(m.profile[z][:], heard[class][:]))
			}
		}
	}
	m.chooseChain(ctx, trials, cells)
	report.LogScore = m.chooseNear(ctx, trials, cells) / cells
	m.chooseSharp(ctx, trials)
	report.Sharp, report.Named = m.sharp, m.namedBy
	report.Profile /= cells
	report.RangeM, report.Regional = m.rangeM, m.regional[:]
	for _, cells := range m.sigma {
		report.SmoothM = append(report.SmoothM, cells*CellM)
	}
	report.Apart, report.NearM, report.Rest, report.Spot = m.apart, m.nearM, m.rest, m.spot
	return report
}

// chooseChain chooses how the local chain is counted, by the logs that stand alone: beside
// another log it has little to say. Range and setting are chosen together, then for every
// range of depth the smoothing and the weight of the region: many logs tell of the first
// metres, where places differ, and few of the rock far below, which is much alike everywhere.
func (m *Model) chooseChain(ctx context.Context, trials []trial, cells float64) {
	apart := aparts[:]
	if !slices.ContainsFunc(trials, trial.settled) {
		apart = apart[len(apart)-1:]
	}
	var tried []choice
	first := everywhere(smoothing[0])
	over := newKernels(first)
	for _, r := range ranges {
		for _, a := range apart {
			tried = append(tried, choice{rangeM: r, sigma: first, over: over, apart: a})
		}
	}
	scores, tolerance := m.scoreCounts(ctx, trials, tried), noDifference*cells
	sums := make([]float64, len(tried))
	for i := range tried {
		sums[i], _, _ = bestByDepth(scores[i*len(regionals):][:len(regionals)], tolerance)
	}
	m.choice = tried[firstBest(sums, tolerance)]
	tried = nil
	for _, s := range smoothing {
		c := m.choice
		c.sigma = everywhere(s)
		c.over = newKernels(c.sigma)
		tried = append(tried, c)
	}
	_, which, regional := bestByDepth(m.scoreCounts(ctx, trials, tried), tolerance)
	m.regional = regional
	for d, i := range which {
		m.sigma[d] = smoothing[i]
	}
	m.over = newKernels(m.sigma)
}

// scoreCounts scores ways to count, each with every weight of the region, by what each log
// that is held out loses in each range of depth.
func (m *Model) scoreCounts(ctx context.Context, trials []trial, tried []choice) [][]byDepth {
	scores := make([][]byDepth, len(tried)*len(regionals))
	for _, t := range trials {
		if ctx.Err() != nil {
			break
		}
		if !t.alone {
			continue
		}
		for i, c := range tried {
			count := m.region.count(t.around, t.weights(c.rangeM, c.apart), c.over, len(t.cells))
			for j, odds := range m.region.oddsFor(count, regionals[:]) {
				of := &scores[i*len(regionals)+j]
				*of = append(*of, t.byDepth(odds))
			}
			m.region.spare.Put(count)
		}
	}
	return scores
}

// bestByDepth chooses for each range of depth which way to count, and the weight of the
// region, by the scores there: the first that is as good as the best but for luck, which is
// two standard errors over the logs. Those that are held out stand among others; where the
// next bores are far off, who trusts few of them has more to lose.
//
// Source: as the rule of one standard error, Breiman et al. (1984).
func bestByDepth(scores [][]byDepth, tolerance float64) (sum float64, which [len(byDepth{})]int, regional byDepth) {
	for d := range regional {
		sums := make([]float64, len(scores))
		for i, of := range scores {
			for _, s := range of {
				sums[i] += s[d]
			}
		}
		best := slices.Index(sums, slices.Min(sums))
		first := slices.IndexFunc(scores, func(of []byDepth) bool {
			off, luck := apartIn(of, scores[best], d)
			return off <= max(tolerance, 2*luck)
		})
		which[d], regional[d] = first/len(regionals), regionals[first%len(regionals)]
		sum += sums[first]
	}
	return sum, which, regional
}

// apartIn is by how much one way loses more than another in a range of depth, and the
// standard error of that over the logs.
func apartIn(a, b []byDepth, d int) (off, luck float64) {
	square := 0.0
	for i := range a {
		x := a[i][d] - b[i][d]
		off += x
		square += x * x
	}
	return off, math.Sqrt(max(square-off*off/float64(max(len(a), 1)), 0))
}

// firstBest returns the place of the first score that is as good as the best.
func firstBest(scores []float64, tolerance float64) int {
	best := slices.Min(scores)
	return slices.IndexFunc(scores, func(s float64) bool { return s <= best+tolerance })
}

func dot(a, b []float64) (sum float64) {
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}
