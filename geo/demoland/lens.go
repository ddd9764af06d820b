package demoland

import (
	"math"
	"math/rand/v2"
)

// lens is an old channel in a valley fill: long along the valley, flat on top, bowl
// below, thinning to nothing at its edge.
type lens struct {
	at       pt
	along    pt      // unit vector of its long axis
	halfLong float64 // half lengths, m
	halfWide float64
	topM     float64 // depth of its top below ground
	thickM   float64
	unit     Unit
}

// span returns the depths between which the lens lies at p.
func (n *lens) span(p pt) (topM, baseM float64, inside bool) {
	d := p.minus(n.at)
	a, b := d.dot(n.along)/n.halfLong, (d.v*n.along.u-d.u*n.along.v)/n.halfWide
	r2 := a*a + b*b
	if r2 >= 1 {
		return 0, 0, false
	}
	return n.topM + 0.12*n.thickM*r2, n.topM + n.thickM*(1-0.88*r2), true
}

// placeLenses strews old channels along every river with a fill worth the name.
func (l *Land) placeLenses(r *rand.Rand) *buckets[lens] {
	out := newBuckets[lens]()
	for i := range l.rivers {
		s := &l.rivers[i]
		if s.order == headwater {
			continue
		}
		owed := 0.0
		for k := range len(s.nodes) - 1 {
			if s.fill[k] < 3.5 {
				continue
			}
			owed += l.lensShare * stepM * 2 * s.half[k] * s.fill[k]
			for owed > 0 {
				n := newLens(r, s, k)
				owed -= 0.6 * math.Pi * n.halfLong * n.halfWide * n.thickM
				out.add(n, n.at, n.halfLong)
			}
		}
	}
	return out
}

func newLens(r *rand.Rand, s *river, k int) lens {
	along := s.nodes[k+1].minus(s.nodes[k])
	along = heading(math.Atan2(along.v, along.u) + 0.25*r.NormFloat64())
	offset := 0.75 * s.half[k] * between(r, -1, 1)
	share := offset / s.half[k]
	fill := s.fill[k] * math.Pow(1-share*share, 0.7)
	depth := between(r, 0.1, 0.85)
	wide := clamp(s.half[k]*between(r, 0.2, 0.5), 90, 700)
	return lens{
		at: s.nodes[k].plus(pt{-along.v, along.u}.times(offset)), along: along,
		halfWide: wide, halfLong: wide * between(r, 2, 4.5),
		topM: max(0.8, depth*fill), thickM: clamp(fill*between(r, 0.1, 0.3), 0.8, 6),
		unit: lensUnit(r, depth),
	}
}

// lensUnit draws what fills a channel: coarser the deeper, some of it dirty.
func lensUnit(r *rand.Rand, depth float64) Unit {
	draw := r.Float64()
	switch {
	case draw < 0.15:
		return DirtyLens
	case depth+0.5*draw < 0.5:
		return FineLens
	case depth+0.5*draw < 0.85:
		return MediumLens
	case depth+0.5*draw < 1.15:
		return CoarseLens
	default:
		return GravelLens
	}
}
