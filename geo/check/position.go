package check

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

const (
	edgeDeg      = 0.02 // bores a little outside a boundary are usual: about 2 km
	mostOutside  = 0.2  // with more bores outside, the boundary is not theirs
	aloneM       = 50000.0
	aloneTimes   = 8.0 // how many times the usual distance from the middle of a source
	fewestAround = 20
)

// slip is one way of writing a position down wrong.
type slip struct {
	code geo.Code
	undo func(coord.LonLat) coord.LonLat
}

// slips in the order in which they are tried: the simplest first.
var slips = []slip{
	{PositionSignLost, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: -p.Lon, Lat: p.Lat} }},
	{PositionSignLost, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon, Lat: -p.Lat} }},
	{PositionSwapped, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lat, Lat: p.Lon} }},
	{PositionSignLost, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: -p.Lon, Lat: -p.Lat} }},
	{PositionSwapped, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: -p.Lat, Lat: p.Lon} }},
	{PositionSwapped, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lat, Lat: -p.Lon} }},
	{PositionSwapped, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: -p.Lat, Lat: -p.Lon} }},
}

// placed judges where a bore lies: against its village, or else against the boundary, or
// else against the rest of its source.
func (s *survey) placed(h *hole) {
	if !h.placed {
		return
	}
	s.coarse(h)
	if named := s.villages.of(h); len(named) > 0 {
		s.byVillage(h, named)
		return
	}
	if middle, known := s.standIns[h.place]; known && s.slipped(h, []coord.LonLat{middle}) {
		return
	}
	home, code := s.inBoundary, PositionOutside
	if s.boundary == nil {
		home, code = s.origins[h.origin].around, PositionAlone
	}
	if home(h.at) {
		return
	}
	h.astray = true
	for _, try := range slips {
		if p := try.undo(h.at); p.Valid() && home(p) {
			h.say(try.code, geo.With("value", geo.Text(written(h.at))))
			return
		}
	}
	h.say(code, geo.With("value", geo.Text(written(h.at))))
}

// byVillage judges the distance from the village.
func (s *survey) byVillage(h *hole, named []coord.LonLat) {
	if s.slipped(h, named) {
		return
	}
	s.otherVillage(h)
	if far := nearestM(h.at, named); far > s.farM {
		h.astray = true
		h.say(PositionFar, geo.With("distance", geo.DistanceM(far)), geo.With("value", geo.Text(written(h.at))))
	}
}

// slipped names a slip when undoing it brings the bore near to its village, and far nearer
// than it is.
func (s *survey) slipped(h *hole, named []coord.LonLat) bool {
	const farNearer = 4
	far := nearestM(h.at, named)
	if far < s.NearM/2 {
		return false
	}
	for _, try := range slips {
		p := try.undo(h.at)
		if !p.Valid() || p == h.at {
			continue
		}
		if near := nearestM(p, named); near < s.NearM && near*farNearer < far {
			h.astray = true
			h.say(try.code, geo.With("value", geo.Text(written(h.at))))
			return true
		}
	}
	return false
}

// frame forgets a boundary that is not that of these bores.
func (s *survey) frame() {
	outside, n := 0, 0
	for i := range s.holes {
		if h := &s.holes[i]; h.placed {
			n++
			if !s.inBoundary(h.at) {
				outside++
			}
		}
	}
	if float64(outside) > mostOutside*float64(n) {
		s.boundary = nil
	}
	for i := range s.origins {
		s.origins[i].settle()
		s.origins[i].settleDepths()
		s.origins[i].habits.settle()
	}
	s.settleFar()
}

// inBoundary reports a position inside the region, or just outside.
func (s *survey) inBoundary(p coord.LonLat) bool {
	if planar.MultiPolygonContains(s.boundary, p.Point()) {
		return true
	}
	for _, polygon := range s.boundary {
		if near(polygon, p.Point()) {
			return true
		}
	}
	return false
}

// near reports a point within edgeDeg of a polygon's rings.
func near(polygon orb.Polygon, p orb.Point) bool {
	return polygon.Bound().Pad(edgeDeg).Contains(p) && planar.DistanceFrom(polygon, p) <= edgeDeg
}
