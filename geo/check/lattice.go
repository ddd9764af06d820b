package check

import (
	"math"

	"waterstrike/geo"
)

const (
	halfMetreFt = 0.5 / footM // half a metre, in feet
	latticeFt   = 0.051       // figures are written to a tenth
)

// What feetMarks says of layers that meet elsewhere.
const (
	elsewhere = -1
	inMetres  = -2 // at half metres, and not only at whole ones, which may be feet
)

// feetMarks counts the depths at which layers meet when all of them are whole or half
// metres turned into feet: 1.6, 3.3, 4.9, 6.6. Drillers note layers by the half metre, and
// a tenth falls on these by chance one time in sixteen.
func feetMarks(layers []geo.Layer) int {
	deepest := geo.Bore{Layers: layers}.LoggedM()
	n, feet, metric, whole, last := 0, true, true, true, 0.0
	for _, l := range layers {
		if l.BaseM == deepest || l.BaseM == last {
			continue
		}
		last = l.BaseM
		feet = feet && onLattice(last, halfMetreFt, latticeFt)
		metric = metric && onLattice(last, 0.5, 0.001)
		whole = whole && onLattice(last, 1, 0.001)
		n++
	}
	switch {
	case n > 1 && metric && !whole:
		return inMetres
	case n > 0 && (metric || !feet):
		return elsewhere
	}
	return n
}

// onLattice reports a value near to a multiple of a step.
func onLattice(v, step, tolerance float64) bool {
	return v > step/2 && math.Abs(v-step*math.Round(v/step)) <= tolerance
}

// roundInFeet reports a bore by where its layers meet, the more readily the deeper it
// lies than its neighbours.
func (s *survey) roundInFeet(h *hole, n around) bool {
	ratio := 1.0
	if depth, known := h.depth.Get(); known && len(n.depths) >= fewestNear {
		ratio = depth / median(n.depths)
	}
	if h.marks >= 3 || h.marks == 2 && ratio > 1.4 || h.marks == 1 && ratio > 2 {
		if !s.origins[h.origin].habits.inFeet { // else it is said of the source, once
			h.say(BoreRoundInFeet, geo.With("n", geo.Count(h.marks)))
		}
		return true
	}
	return false
}

// figuresInFeet reports a source by where its layers meet, or by depths that all are half
// metres turned into feet.
func (h *habits) figuresInFeet() bool {
	const fewest, most = 10, 0.6
	if h.marked >= fewest && float64(h.marked) > most*float64(h.marked+h.unmarked) {
		return true
	}
	_, total := h.multiples(halfMetreFt)
	return total > 0
}

// multiples counts the depths that are multiples of a step, and all; none where that is
// not true of nearly all. A tenth falls near to a whole foot by chance one time in three.
func (h *habits) multiples(step float64) (n, total int) {
	const nearlyAll, fewestDepths = 0.95, 6
	different := 0
	for d, times := range h.depths {
		total += times
		if onLattice(d, step, latticeFt) {
			n += times
			different++
		}
	}
	if total < fewestUsual || different < fewestDepths || float64(n) < nearlyAll*float64(total) {
		return 0, 0
	}
	return n, total
}
