package check

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// isRounded reports a position that stands on whole minutes or hundredths of a degree both
// ways: two kilometres and one, too coarse for a bore.
func isRounded(p coord.LonLat) bool {
	const toleranceDeg = 1.5e-5 // minutes are written as decimals
	on := func(step float64) bool {
		return math.Abs(math.Remainder(p.Lon, step)) < toleranceDeg && math.Abs(math.Remainder(p.Lat, step)) < toleranceDeg
	}
	return on(0.01) || on(1.0/60)
}

// mostRounded is the share of rounded positions beyond which it is said of the source, once.
const mostRounded = 0.3

// coarse reports a position that is rounded where those of its source are not.
func (s *survey) coarse(h *hole) {
	if o := &s.origins[h.origin]; h.rounded && !usual(o.rounded, o.placed, mostRounded) {
		h.say(PositionRounded, geo.With("value", geo.Text(written(h.at))))
	}
}
