package demoland

import (
	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Districts are the four parts of the region that people are counted by: coast and
// inland, west and east. Together they are the region's land.
func (l *Land) Districts() []geo.Boundary {
	names := newNamer(stream(l.seed, "districts"))
	var out []geo.Boundary
	for i, part := range []struct{ west, east, south, north float64 }{
		{-halfM, 0, -halfM, 0}, {0, halfM, -halfM, 0}, {-halfM, 0, 0, halfM}, {0, halfM, 0, halfM},
	} {
		out = append(out, geo.Boundary{
			ID: geo.PlaceID(l.id("district", i)), Name: names.draw(), Kind: "district",
			Shape: orb.MultiPolygon{{l.between(part.west, part.east, part.south, part.north)}}, Source: provenance("survey"),
		})
	}
	return out
}

// between is the outline of the land between two lines north to south and two across,
// counter-clockwise; where the shore lies north of the southern line it goes along that.
func (l *Land) between(west, east, south, north float64) orb.Ring {
	const step = 1000.0
	var ring orb.Ring
	for u := west; u <= east; u += step {
		ring = append(ring, l.vertex(pt{u, max(south, l.shoreV(u))}))
	}
	ring = append(ring, l.vertex(pt{east, north}), l.vertex(pt{west, north}), ring[0])
	if ring.Orientation() == orb.CW {
		ring.Reverse()
	}
	return ring
}
