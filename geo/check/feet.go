package check

import (
	"math"
	"slices"
)

// A value in feet read as metres is 3.28 times too large. Against neighbours, which
// differ among themselves, a factor between these two is taken for it.
const (
	leastFeet = 2.4
	mostFeet  = 4.5

	feetReachM = 5000.0 // neighbours farther than this may stand in other ground
)

// feet reports a bore whose depth and level both stand to its neighbours' as feet to
// metres.
func (s *survey) feet(h *hole, n around) bool {
	depth, drilled := h.depth.Get()
	level, measured := h.level.Get()
	if !drilled || !measured || n.levelReachM > feetReachM || !likeFeet(depth, n.depths) || !likeFeet(level, n.levels) {
		return false
	}
	h.say(BoreInFeet, metres("depth", depth), metres("level", level),
		metres("from", median(n.depths)), metres("to", median(n.levels)))
	return true
}

// likeFeet reports a value that is larger than every neighbour's, by about the factor of
// feet to metres, and among them once it is read in feet.
func likeFeet(v float64, near []float64) bool {
	if len(near) < fewestNear {
		return false
	}
	ratio := v / median(near)
	least, most := slices.Min(near), slices.Max(near)
	return ratio > leastFeet && ratio < mostFeet && v > most && v*footM > least
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

// inFeet reports ratios whose middle is that of feet to metres.
func inFeet(ratios []float64) bool {
	const fewest = 10
	if len(ratios) < fewest {
		return false
	}
	mid := median(ratios)
	return mid > leastFeet && mid < mostFeet
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
