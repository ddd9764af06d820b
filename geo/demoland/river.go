package demoland

import "math"

// Orders of streams. Their floors, fills and gradients differ.
const (
	mainRiver = 1
	branch    = 2
	headwater = 3
)

const (
	stepM   = 250.0  // length of one piece of a river
	marginM = 6000.0 // how far rivers run on beyond the region, so that its edge is not special
	halfM   = 30000.0
)

// river is a stream from its mouth upstream; z rises with every node.
type river struct {
	order int
	nodes []pt
	z     []float64 // elevation of the stream
	half  []float64 // half width of its floor
	fill  []float64 // greatest thickness of its fill
}

func (r *river) lengthM() float64 { return stepM * float64(len(r.nodes)-1) }

// segment is one straight piece of a river, with values at its two ends.
type segment struct {
	a, b         pt
	za, zb       float64
	halfA, halfB float64
	fillA, fillB float64
}

func (r *river) segment(k int) segment {
	return segment{
		a: r.nodes[k], b: r.nodes[k+1], za: r.z[k], zb: r.z[k+1],
		halfA: r.half[k], halfB: r.half[k+1], fillA: r.fill[k], fillB: r.fill[k+1],
	}
}

// nearness is the nearest spot of a segment, with the stream's values there.
type nearness struct{ d, z, half, fill float64 }

func (s *segment) near(p pt) nearness {
	along := s.b.minus(s.a)
	t := clamp(p.minus(s.a).dot(along)/along.dot(along), 0, 1)
	return nearness{
		d: p.minus(s.a.plus(along.times(t))).length(), z: mix(s.za, s.zb, t),
		half: mix(s.halfA, s.halfB, t), fill: mix(s.fillA, s.fillB, t),
	}
}

// pieces puts the segments of every river where they may matter.
func (l *Land) pieces() *buckets[segment] {
	out := newBuckets[segment]()
	for i := range l.rivers {
		for k := range len(l.rivers[i].nodes) - 1 {
			out.items = append(out.items, l.rivers[i].segment(k))
		}
	}
	for i := range out.side {
		for j := range out.side {
			out.cells[i*out.side+j] = l.relevant(out.items, out.middle(i, j))
		}
	}
	return out
}

// relevant lists the segments that can be lowest somewhere in the bucket around middle,
// or count for the old land surface there.
func (l *Land) relevant(all []segment, middle pt) []int32 {
	best := math.Inf(1)
	for i := range all {
		if all[i].least(middle) < best {
			n := all[i].near(middle)
			best = min(best, n.z+l.side(n.d+cornerM, n.half))
		}
	}
	var kept []int32
	for i := range all {
		if all[i].least(middle)-leastSlope*cornerM < best || all[i].a.minus(middle).length() < surfaceM+stepM+cornerM {
			kept = append(kept, int32(i))
		}
	}
	return kept
}

// least is an elevation that the ground sloping to s does not go below at p.
func (s *segment) least(p pt) float64 {
	return s.za + leastSlope*(s.a.minus(p).length()-stepM-s.halfA)
}
