package demoland

import (
	"math/rand/v2"

	"waterstrike/geo/coord"
)

// Land is one invented region with its truth. It never changes once made, so that any
// number of goroutines may ask it at once.
type Land struct {
	traits
	seed     uint64
	plane    coord.Plane
	fields   [fieldCount]*field
	rivers   []river
	segments *buckets[segment]
	lenses   *buckets[lens]
	basin    basin
}

// The region's middle: open ocean, astride the meridian of Greenwich so that signs and
// two UTM zones matter, and off the equator so that swapped coordinates fall outside.
const (
	middleLon = -0.17
	middleLat = 0.65
)

// New makes the region of a seed.
func New(seed uint64) *Land {
	l := &Land{
		seed: seed, traits: drawTraits(stream(seed, "traits")),
		plane: coord.NewPlane(coord.LonLat{Lon: middleLon, Lat: middleLat}),
	}
	for i := range l.fields {
		l.fields[i] = newField(rand.New(rand.NewPCG(seed, uint64(i)+1000)), fieldLengthM[i])
	}
	l.network(stream(seed, "rivers"))
	l.segments = l.pieces()
	l.lenses = l.placeLenses(stream(seed, "lenses"))
	l.basin = l.placeBasin(stream(seed, "basin"))
	return l
}

// stream is a source of random numbers of its own for one purpose.
func stream(seed uint64, purpose string) *rand.Rand {
	h := uint64(14695981039346656037) // FNV-1a
	for i := range len(purpose) {
		h = (h ^ uint64(purpose[i])) * 1099511628211
	}
	return rand.New(rand.NewPCG(seed, h))
}

// frame turns a position into the land's own frame.
func (l *Land) frame(p coord.LonLat) pt {
	xy := l.plane.XY(p)
	q := pt{xy.X, xy.Y}
	for range l.turns {
		q = pt{-q.v, q.u}
	}
	if l.mirror {
		q.u = -q.u
	}
	return q
}

// lonLat is the inverse of frame.
func (l *Land) lonLat(q pt) coord.LonLat {
	if l.mirror {
		q.u = -q.u
	}
	for range l.turns {
		q = pt{q.v, -q.u}
	}
	return l.plane.LonLat(coord.XY{X: q.u, Y: q.v})
}
