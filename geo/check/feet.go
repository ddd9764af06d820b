package check

import (
	"math"
)

// A value in feet read as metres is 3.28 times too large. Against neighbours, which
// differ among themselves, a factor between least and most is taken for it. Depths differ
// less among neighbours than levels do, so the depth decides and the level must not
// contradict it. Chosen on invented regions that the tests do not use; no other source.
const (
	leastFeet      = 2.4
	mostFeet       = 4.5
	leastDepthFeet = 2.2
	leastLevelFeet = 1.35
	mostBoreFeet   = 7.0

	feetReachM = 5000.0 // neighbours farther than this may stand in other ground
)

// feet reports a bore whose depth and level both stand to its neighbours' as feet to
// metres, and whose layers do not meet at half metres.
func (s *survey) feet(h *hole, n around) bool {
	depth, drilled := h.depth.Get()
	level, measured := h.level.Get()
	if !drilled || !measured || h.marks == inMetres || n.levelReachM > feetReachM ||
		!larger(depth, n.depths, leastDepthFeet) || !larger(level, n.levels, leastLevelFeet) {
		return false
	}
	h.say(BoreInFeet, metres("depth", depth), metres("level", level),
		metres("from", median(n.depths)), metres("to", median(n.levels)))
	return true
}

// larger reports a value that exceeds its neighbours' by a factor that feet may make.
func larger(v float64, near []float64, least float64) bool {
	if len(near) < fewestNear {
		return false
	}
	ratio := v / median(near)
	return ratio > least && ratio < mostBoreFeet
}

// compareSources keeps how a bore's values stand to those of other sources' bores nearby.
func (s *survey) compareSources(h *hole, n around) {
	o := &s.origins[h.origin]
	if depth, known := h.depth.Get(); known && len(n.otherDepth) > 0 {
		o.depthRatios = append(o.depthRatios, depth/median(n.otherDepth))
	}
	if level, known := h.level.Get(); known && len(n.otherLevel) > 0 {
		o.levelRatios = append(o.levelRatios, level/median(n.otherLevel))
		o.levelOffsets = append(o.levelOffsets, level-median(n.otherLevel))
	}
}

// inFeet reports ratios of which the middle is that of feet to metres and hardly any is
// that of equals: two sources of different aims, such as shallow wells beside machine
// bores, differ by anything.
func inFeet(ratios []float64) bool {
	const fewest, equals, hardlyAny = 10, 1.5, 0.15
	if len(ratios) < fewest {
		return false
	}
	alike := 0
	for _, r := range ratios {
		if r < equals {
			alike++
		}
	}
	mid := median(ratios)
	return mid > leastFeet && mid < mostFeet && float64(alike) < hardlyAny*float64(len(ratios))
}

// offset is by how much a source's levels lie deeper than its neighbours', and whether
// that is as steady as a point read from above ground makes it.
func offset(differences []float64) (m float64, steady bool) {
	const fewest, least, most = 20, 0.3, 1.5 // a casing stands 0.3 to 0.5 m above the slab, common practice
	if len(differences) < fewest {
		return 0, false
	}
	m = median(differences)
	err := 1.25 * deviation(differences, m) / math.Sqrt(float64(len(differences))) // of a median
	return m, m >= least && m <= most && err < m/3
}
