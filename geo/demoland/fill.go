package demoland

import (
	"math"
	"math/rand/v2"
)

// layFill lays a valley fill down to a depth: flood clay, silt, lower clay and a gravel
// at its base (silty clay 2-6 m, sand, gravel base: MacDonald & Davies 2000, from
// memory), then cuts old channels into it and, in one part, a confined sand.
func (l *Land) layFill(s *stack, p pt, fillM, confined float64) {
	top := s.baseM()
	thick := fillM - top
	if thick < leastM {
		return
	}
	at := func(i int) float64 { return l.fields[i].at(p) }
	gravel := min(0.2*thick, 3.2*ramp(at(gravelField), -0.3, 1.3)) * ramp(fillM, 4, 9)
	s.lay(FloodClay, thick*clamp(0.27+0.1*at(fillField), 0.08, 0.5))
	s.lay(FloodSilt, min(thick*0.22*ramp(at(siltField), -0.4, 1.2), fillM-gravel-s.baseM()))
	s.layTo(LowerClay, fillM-gravel)
	s.layTo(ValleyGravel, fillM)
	for _, i := range l.lenses.near(p) {
		n := &l.lenses.items[i]
		if a, b, ok := n.span(p); ok {
			s.cut(n.unit, int(i)+1, max(a, top), min(b, fillM))
		}
	}
	if confined > 0 {
		sand, base := confinedSpan(fillM, confined)
		s.cut(ConfiningClay, 0, max(top, mix(sand, 0.3, ramp(confined, 0, 0.25))), sand)
		s.cut(ConfinedSand, 0, max(top, sand), base)
	}
}

// confinedSpan returns the depths of the confined sand.
func confinedSpan(fillM, confined float64) (topM, baseM float64) {
	topM = 0.5 * fillM
	return topM, topM + min(5.5, 0.3*fillM)*math.Sqrt(confined)
}

// basin is the part of the main valley that holds the confined sand.
type basin struct {
	at      pt
	radiusM float64
}

func (l *Land) placeBasin(r *rand.Rand) basin {
	host := &l.rivers[0]
	k := int(between(r, 0.2, 0.45) * float64(len(host.nodes)))
	return basin{host.nodes[k], between(r, 4500, 8000)}
}

// confinedAt is 1 in the middle of the basin and 0 outside it or where the fill is thin.
func (l *Land) confinedAt(p pt, fillM float64) float64 {
	d := p.minus(l.basin.at).length() / l.basin.radiusM
	return max(0, 1-d*d) * ramp(fillM, 0.55*l.valleyFillM, 0.75*l.valleyFillM)
}

// strip is the sand behind the shore: its thickness, and how much the dunes add or the
// streams take.
type strip struct{ thickM, duneM float64 }

func (l *Land) stripAt(r relief) strip {
	f := r.shoreM / l.stripM
	switch {
	case f < 0:
		return strip{thickM: l.stripDepthM}
	case f >= 1:
		return strip{}
	}
	share := math.Pow(1-f*f, 0.7)
	return strip{l.stripDepthM * share, share * (r.groundM - l.beach(r.shoreM))}
}

// baseM is the depth of the strip's base below ground.
func (s strip) baseM() float64 { return max(s.thickM+s.duneM, 0) }

// layStrip lays dune and beach sands over lagoon clay and an older beach.
func (l *Land) layStrip(s *stack, p pt, sand strip) {
	depth := func(share float64) float64 { return share*sand.thickM + sand.duneM }
	s.layTo(DuneSand, depth(clamp(0.4+0.08*l.fields[fillField].at(p), 0.2, 0.6)))
	s.layTo(BeachSand, depth(0.7))
	s.layTo(LagoonClay, depth(0.7+0.16*ramp(l.fields[siltField].at(p), -0.8, 0.6)))
	s.layTo(OldBeachSand, depth(1))
}
