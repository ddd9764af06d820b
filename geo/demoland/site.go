package demoland

import (
	"math"
	"math/rand/v2"

	"waterstrike/geo/coord"
)

// Inside reports whether p lies on the region's land.
func (l *Land) Inside(p coord.LonLat) bool { return l.inside(l.frame(p)) }

func (l *Land) inside(q pt) bool {
	return math.Abs(q.u) <= halfM && math.Abs(q.v) <= halfM && q.v > l.shoreV(q.u)
}

// UniformSites draws n points spread evenly over the region's land.
func (l *Land) UniformSites(n int, seed uint64) []coord.LonLat {
	r := rand.New(rand.NewPCG(seed, l.seed^0x517e5))
	out := make([]coord.LonLat, 0, n)
	for len(out) < n {
		out = append(out, l.lonLat(l.drawLand(r)))
	}
	return out
}

func (l *Land) drawLand(r *rand.Rand) pt {
	for {
		if q := (pt{between(r, -halfM, halfM), between(r, -halfM, halfM)}); l.inside(q) {
			return q
		}
	}
}

// VillageSites draws n points as villages lie: rather low, near streams, off the floors
// that flood every year; no two are the same but they may be close.
func (l *Land) VillageSites(n int, seed uint64) []coord.LonLat {
	r := rand.New(rand.NewPCG(seed, l.seed^0x7111a6e))
	out := make([]coord.LonLat, 0, n)
	for len(out) < n {
		out = append(out, l.lonLat(l.drawVillage(r)))
	}
	return out
}

func (l *Land) drawVillage(r *rand.Rand) pt {
	for {
		q := l.drawLand(r)
		land := l.reliefAt(q)
		dry := ramp(land.toM, 60, 250) * ramp(land.shoreM, 150, 500)
		low := math.Exp(-land.overM/35) * (0.35 + 0.65*math.Exp(-land.toM/1500))
		crowd := ramp(l.fields[peopleField].at(q), -1.5, 1)
		if r.Float64() < dry*low*(0.3+0.7*crowd) {
			return q
		}
	}
}
