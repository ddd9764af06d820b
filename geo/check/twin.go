package check

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// sameBore reports the first bore that may be this one, entered twice: at the same spot
// and of the same depth, with the same day, log, number or level. Bores in a nest share
// spot and day, but not their depth.
func (s *survey) sameBore(h *hole) {
	if !h.placed {
		return
	}
	for _, hit := range s.index.Within(h.at, s.SameSpotM) {
		other := s.of(hit.ID)
		if other != h && alike(h, other) {
			h.say(SameBore, geo.With("bore", geo.Text(other.label)),
				geo.With("distance", geo.DistanceM(coord.DistanceM(h.at, other.at))))
			return
		}
	}
}

// alike reports two bores of one spot that agree in depth and in something rarer.
func alike(a, b *hole) bool {
	const sameM = 0.15 // a decimetre, and the rounding of feet
	depthA, knownA := a.depth.Get()
	depthB, knownB := b.depth.Get()
	if knownA && knownB && math.Abs(depthA-depthB) > sameM {
		return false
	}
	sameDay := a.on == b.on && a.on.Day != 0
	sameLog := a.log == b.log && a.log != 0
	sameCode := a.code == b.code && a.code != ""
	sameLevel := knownA && knownB && a.level.Known() && a.level == b.level
	return sameDay || sameLog || sameCode || sameLevel
}
