package advisor

import (
	"math"

	"waterstrike/advisor/evidence"
	"waterstrike/geo/coord"
)

// apartM is how far two bores must stand apart to count as two: closer ones were usually
// sited, drilled and logged as one.
const apartM = 100

// independent counts the separate bores within reach of a point, those closer to each
// other than apartM counted once.
//
//   - Units: metres.
//   - Domain: near sorted by distance.
//   - Source: common practice, no source.
func independent(near []evidence.Near, reachM float64) int {
	var separate []coord.LonLat
	for _, n := range near {
		if n.DistanceM > reachM {
			break
		}
		if !anyWithin(separate, n.Pos, apartM) {
			separate = append(separate, n.Pos)
		}
	}
	return len(separate)
}

func anyWithin(places []coord.LonLat, at coord.LonLat, metres float64) bool {
	const leastDegreeM = 110_000 // no degree of latitude is shorter
	for _, p := range places {
		if math.Abs(p.Lat-at.Lat)*leastDegreeM < metres && coord.DistanceM(p, at) < metres {
			return true
		}
	}
	return false
}
