package demoland

import (
	"math"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// boundary is the outline of the region's land, counter-clockwise.
func (l *Land) boundary(name string) geo.Boundary {
	const step = 1000.0
	var ring orb.Ring
	put := func(q pt) { ring = append(ring, l.vertex(q)) }
	for u := -halfM; u <= halfM; u += step {
		put(pt{u, l.shoreV(u)})
	}
	put(pt{halfM, halfM})
	put(pt{-halfM, halfM})
	ring = append(ring, ring[0])
	if ring.Orientation() == orb.CW {
		ring.Reverse()
	}
	return geo.Boundary{
		ID: geo.PlaceID(l.id("boundary", 0)), Name: name, Kind: "region",
		Shape: orb.MultiPolygon{{ring}}, Source: provenance("survey"),
	}
}

// riverRecords writes every stream from its source down, as far as it runs inside the
// region. Headwaters have no name and dry up.
func (l *Land) riverRecords(names *namer) []geo.River {
	var out []geo.River
	for i := range l.rivers {
		r := &l.rivers[i]
		var line orb.LineString
		for k := len(r.nodes) - 1; k >= 0; k-- {
			if q := r.nodes[k]; math.Abs(q.u) <= halfM && q.v <= halfM {
				line = append(line, l.vertex(q))
			} else if len(line) > 1 {
				break
			}
		}
		if len(line) < 2 {
			continue
		}
		record := geo.River{
			ID: geo.PlaceID(l.id("river", i)), Perennial: geo.Some(r.order != headwater),
			Line: line, Source: provenance("survey"),
		}
		if r.order != headwater {
			record.Name = names.draw()
		}
		out = append(out, record)
	}
	return out
}

// vertex is a point of a shape, to a millionth of a degree.
func (l *Land) vertex(q pt) orb.Point {
	p := l.lonLat(q)
	return orb.Point{round(p.Lon, 1e-6), round(p.Lat, 1e-6)}
}
