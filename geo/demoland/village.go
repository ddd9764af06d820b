package demoland

import (
	"math"

	"waterstrike/geo"
)

// villages lie apart from each other where people settle.
func (l *Land) villages(names *namer) []geo.Village {
	r := stream(l.seed, "villages")
	var spots []pt
	for apart := 2200.0; len(spots) < villageCount; {
		q := l.drawVillage(r)
		if nearest(q, spots) < apart {
			apart *= 0.995 // room grows scarce
			continue
		}
		spots = append(spots, q)
	}
	out := make([]geo.Village, len(spots))
	for i, q := range spots {
		people := clamp(420*math.Exp(0.8*r.NormFloat64()), 60, 6000)
		out[i] = geo.Village{
			ID: geo.VillageID(l.id("village", i)), Name: names.draw(), Position: l.position(q),
			People: geo.Some(int(people/10) * 10), Source: provenance("census"),
		}
	}
	return out
}

func nearest(q pt, spots []pt) float64 {
	best := math.Inf(1)
	for _, s := range spots {
		best = min(best, q.minus(s).length())
	}
	return best
}
