package demoland

import (
	"math"
	"math/rand/v2"
)

// spring says how a stream is to grow from its mouth.
type spring struct {
	from     pt
	parent   int
	order    int
	angle    float64 // direction at the mouth
	z        float64
	gradient float64 // m/m at the mouth
	steepen  float64 // growth of the gradient over the length
	lengthM  float64
	halfM    float64
	fillM    float64
}

// network grows the rivers: the main one, then tributaries, streams from the shore, and
// headwaters, each kept clear of all before it.
func (l *Land) network(r *rand.Rand) {
	for len(l.rivers) == 0 { // one that turns back into the sea at once is drawn again
		mouth := pt{between(r, -9000, 9000), 0}
		mouth.v = l.shoreV(mouth.u)
		l.grow(r, spring{mouth, -1, mainRiver, math.Pi / 2, 0, 0.0007, 1.2, 90000, l.valleyHalfM, l.valleyFillM}, 0)
	}
	l.branches(r, 0, branch, l.branchEveryM, 30000)
	l.shoreStreams(r)
	l.fillGaps(r, 7000, 9000)
	for i := range l.rivers { // range fixes the count: headwaters get no headwaters
		l.branches(r, i, headwater, 2600, 7000)
	}
	l.fillGaps(r, 2900, 3500)
}

// branches lets tributaries of a given order join river i on alternate sides.
func (l *Land) branches(r *rand.Rand, i, order int, everyM, lengthM float64) {
	side := 1.0
	for s := everyM * between(r, 0.4, 0.9); s < l.rivers[i].lengthM()-stepM; s += everyM * between(r, 0.35, 0.75) {
		l.grow(r, l.tributary(r, i, order, int(s/stepM), side, lengthM*between(r, 0.6, 1.1)), 1800)
		side = -side
	}
}

func (l *Land) tributary(r *rand.Rand, i, order, node int, side, lengthM float64) spring {
	host := &l.rivers[i]
	along := host.nodes[node+1].minus(host.nodes[node])
	s := l.spring(i, node, order)
	s.angle = math.Atan2(along.v, along.u) + side*between(r, 0.85, 1.3)
	s.lengthM = lengthM
	return s
}

// spring is a tributary of an order to river i at one of its nodes.
func (l *Land) spring(i, node, order int) spring {
	host := &l.rivers[i]
	s := spring{
		from: host.nodes[node], parent: i, order: order, z: host.z[node],
		gradient: 0.0022, steepen: 1, halfM: l.branchHalfM, fillM: l.branchFillM,
	}
	s.halfM, s.fillM = min(s.halfM, host.half[node]), min(s.fillM, host.fill[node])
	if order == headwater {
		s.gradient, s.halfM, s.fillM = 0.0045, 60, 2
	}
	return s
}

// shoreStreams lets short rivers run straight into the sea.
func (l *Land) shoreStreams(r *rand.Rand) {
	for u := -halfM - 3000; u < halfM+3000; u += between(r, 5000, 8000) {
		from := pt{u, l.shoreV(u)}
		l.grow(r, spring{
			from, -1, branch, math.Pi/2 + between(r, -0.3, 0.3), 0, 0.002, 1,
			between(r, 9000, 16000), l.branchHalfM * 0.8, l.branchFillM * 0.8,
		}, 2500)
	}
}

// grow adds one stream unless it ends too soon, stopping clearM from any other.
func (l *Land) grow(r *rand.Rand, s spring, clearM float64) {
	out := river{order: s.order}
	at, turn, z, ok := s.from, 0.0, s.z, true
	for d := 0.0; d <= s.lengthM; d += stepM {
		if d > 0 {
			turn = 0.9*turn + 0.16*r.NormFloat64()
			at = at.plus(heading(s.angle + turn).times(stepM))
			z, ok = l.rise(s, at, z, d)
		}
		if !ok || l.crowded(s, at, d, clearM) {
			break
		}
		share := 1 - 0.55*d/s.lengthM
		out.nodes, out.z = append(out.nodes, at), append(out.z, z)
		out.half, out.fill = append(out.half, s.halfM*share), append(out.fill, s.fillM*share)
	}
	if n := len(out.nodes); n >= 6 && out.z[n-1]-out.z[0] > 1.5 { // what rises less is a side channel of its host
		l.rivers = append(l.rivers, out)
	}
}

// rise returns the stream's next elevation, and whether it can go on: it rises by its
// own gradient but stays below the land that slopes to every other stream and the shore.
func (l *Land) rise(s spring, at pt, z, d float64) (float64, bool) {
	ground := l.beach(at.v - l.shoreV(at.u))
	for i := range l.rivers {
		for k := range len(l.rivers[i].nodes) - 1 {
			if l.rivers[i].z[k]+leastSlope*(l.rivers[i].nodes[k].minus(at).length()-stepM-l.rivers[i].half[k]) > ground {
				continue // too far to matter
			}
			piece := l.rivers[i].segment(k)
			n := piece.near(at)
			ground = min(ground, n.z+l.side(n.d, n.half))
		}
	}
	next := min(z+s.gradient*(1+s.steepen*d/s.lengthM)*stepM, ground-0.1)
	floor := z + 1e-4*stepM
	return max(next, floor), (next >= floor || d < joinM && ground > z-1.5) && !l.undercuts(s, at, max(next, floor))
}

// joinM is how far from its mouth a stream may run level with its host.
const joinM = 2500

// undercuts reports whether a stream at that elevation would drain another one sideways.
func (l *Land) undercuts(s spring, at pt, z float64) bool {
	for i := range l.rivers {
		for k, node := range l.rivers[i].nodes {
			if i == s.parent && node.minus(s.from).length() < joinM {
				continue // the host around the mouth, which it does drain into
			}
			above := l.rivers[i].z[k] - z
			if above <= 0 {
				continue
			}
			d := node.minus(at).length()
			if above > leastSlope*(d-s.halfM) && above > l.side(d, s.halfM)-0.4 {
				return true
			}
		}
	}
	return false
}

// crowded reports whether a stream must stop: off the map, back in the sea, or too near
// another one (its own host only once it has left it).
func (l *Land) crowded(s spring, at pt, d, clearM float64) bool {
	edge := halfM + marginM
	if math.Abs(at.u) > edge || at.v > edge || d > 0 && at.v < l.shoreV(at.u)+200 {
		return true
	}
	for i := range l.rivers {
		if i == s.parent && d < 2*clearM+l.rivers[i].half[0] {
			continue
		}
		for k := 0; k < len(l.rivers[i].nodes); k++ {
			if at.minus(l.rivers[i].nodes[k]).length() < clearM+l.rivers[i].half[k]*0.5 {
				return i != s.parent || d > 0
			}
		}
	}
	return false
}
