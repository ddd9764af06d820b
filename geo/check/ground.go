package check

import (
	"math"

	"waterstrike/geo"
)

// How far an elevation may lie from what is around it, common practice, no source: five
// metres are what a hand-held receiver errs by.
const (
	receiverM   = 5.0
	groundTimes = 6.0   // robust deviations from the neighbours
	soonM       = 300.0 // over so little ground, nearness tells nothing more
)

// compareGround keeps by how much an elevation exceeds that of its neighbours, the nearer
// ones counting more.
func (s *survey) compareGround(h *hole, n around) {
	v, known := h.ground.Get()
	if !known || len(n.grounds) < fewestNear {
		return
	}
	sum, weights := 0.0, 0.0
	for i, w := range n.groundWeights {
		sum, weights = sum+w*n.grounds[i], weights+w
	}
	h.aboveNear = geo.Some(v - sum/weights)
}

// offTerrain judges the elevation by the terrain where it is known, else by how elevations
// differ from those around in the whole base: that is little in a plain and much in hills.
func (s *survey) offTerrain(h *hole) {
	v, known := h.ground.Get()
	if !known || !h.placed || h.astray {
		return
	}
	if s.Terrain != nil {
		if m, errorM, ok := s.Terrain(h.at); ok {
			if math.Abs(v-m) > s.Outlying*max(errorM, receiverM) {
				h.say(GroundOffTerrain, metres("level", v), metres("from", m))
			}
			return
		}
	}
	if above, known := h.aboveNear.Get(); known && math.Abs(above) > groundTimes*s.usualReliefM() {
		h.say(GroundOutlier, metres("level", v), metres("from", v-above))
	}
}

// usualReliefM is by how much elevations usually differ from those around.
func (s *survey) usualReliefM() float64 {
	if s.reliefM == 0 {
		var all []float64
		for i := range s.holes {
			if m, known := s.holes[i].aboveNear.Get(); known {
				all = append(all, m)
			}
		}
		s.reliefM = max(receiverM, deviation(all, median(all)))
	}
	return s.reliefM
}
