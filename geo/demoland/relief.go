package demoland

import "math"

// relief is what the shape of the land says at one point.
type relief struct {
	groundM float64 // elevation above the sea
	aboveM  float64 // height above the stream or shore it drains to
	overM   float64 // the same, passing smoothly from one stream to the next at divides
	toM     float64 // distance to it
	shoreM  float64 // distance to the shore, negative at sea
	fillM   float64 // thickness of river deposits
	plateau float64 // 0 on slopes, 1 on what is left of the old land surface
}

// shoreV returns v of the shore at u.
func (l *Land) shoreV(u float64) float64 {
	return l.coastV + 1200*l.fields[coastField].at(pt{u, 0})
}

// leastSlope is the gentlest that a valley side gets; no stream is as steep.
const leastSlope = 0.011

// side is the height of the ground above a stream d metres away: a nearly flat floor, a
// foot slope, the valley side, and a gentler upper slope. It always rises, and always
// faster than any stream does, so that streams lie in the lowest ground.
func (l *Land) side(d, half float64) float64 {
	if d <= half {
		return 1.6 * d * d / (half * half)
	}
	x := d - half
	return 1.6 + (l.hillSlope-leastSlope)*bend(x, 200, 2400) + leastSlope*x
}

// bend grows from a flat start, then at a slope near 1, and levels off towards far.
func bend(x, foot, far float64) float64 {
	return far * x / (far + x) * x / (foot + x)
}

// beach is the height of the ground d metres behind the shore, dunes left out.
func (l *Land) beach(d float64) float64 {
	if d < 0 {
		return 0.008 * d
	}
	return 1.5*ramp(d, 0, 150) + 0.0012*d + (l.hillSlope-leastSlope)*bend(max(d-l.stripM, 0), 300, 5000) +
		leastSlope*max(d-l.stripM, 0)*ramp(d, l.stripM, 2*l.stripM)
}

// dunes stand on the beach ridge.
func (l *Land) dunes(p pt, d float64) float64 {
	if d > l.stripM {
		return 0
	}
	height := 2.2 + 1.3*l.fields[duneField].at(p)
	return max(height, 0) * ramp(d, 100, 400) * (1 - ramp(d, 0.7*l.stripM, l.stripM))
}

// reliefAt works out the shape of the land at p: the lowest of the surfaces that rise
// from every stream near and from the shore, planed off by an old land surface.
func (l *Land) reliefAt(p pt) relief {
	shore := p.v - l.shoreV(p.u)
	lowest := l.beach(shore) + l.dunes(p, shore)
	s := survey{lowest: lowest, toM: math.Abs(shore), bankM: math.Inf(1), bases: softBase{lowest: lowest, weight: 1}}
	for _, i := range l.segments.near(p) {
		n := l.segments.items[i].near(p)
		if n.z+leastSlope*(n.d-n.half) < s.lowest+3*softM {
			s.rise(n, n.z+l.side(n.d, n.half))
		}
		s.meet(n)
	}
	out := relief{toM: s.toM, shoreM: shore, fillM: s.fillM}
	if shore < 0 {
		out.groundM, out.aboveM, out.overM = s.lowest, s.lowest, s.lowest
		return out
	}
	out.groundM, out.plateau = l.wear(p, s)
	out.aboveM, out.overM = out.groundM-s.base, out.groundM-s.bases.mean()
	return out
}

// survey gathers what the streams around one point say.
type survey struct {
	lowest, base float64 // the lowest surface, and the stream or shore it rises from
	toM, bankM   float64 // distances to that stream and to the nearest floor
	fillM        float64
	weight, sum  float64 // of the streams that set the old land surface
	bases        softBase
}

// rise takes in a surface.
func (s *survey) rise(n nearness, surface float64) {
	s.bases.add(surface, n.z)
	if surface < s.lowest {
		s.lowest, s.base, s.toM = surface, n.z, n.d
	}
}

// meet takes in a stream's nearness, whatever its height.
func (s *survey) meet(n nearness) {
	s.bankM = min(s.bankM, n.d-n.half)
	if f := n.d / n.half; f < 1 {
		s.fillM = max(s.fillM, n.fill*math.Pow(1-f*f, 0.7))
	}
	w := max(0, 1-n.d/surfaceM)
	s.weight, s.sum = s.weight+w*w, s.sum+w*w*n.z
}

// wear adds small hills away from the streams and planes the ground off at the old land
// surface; where no stream is near, the hills stand.
func (l *Land) wear(p pt, s survey) (groundM, plateau float64) {
	middle := s.bases.mean()
	over := clamp(s.lowest-middle, 0, 25)
	ground := s.lowest + 0.08*over*ramp(s.bankM, 50, 700)*clamp(l.fields[undulationField].at(p), -1.5, 1.5)
	if s.weight == 0 {
		return ground, 0
	}
	near := ramp(s.weight, 0, 0.4)
	old := s.sum/s.weight + l.plateauM*(1+0.22*l.fields[planationField].at(p))
	planed := lower(ground, max(old, middle+12), 12)
	return mix(ground, planed, near), near * ramp(ground-old, -9, 3)
}

// surfaceM is the distance within which streams set the height of the old land surface.
const surfaceM = 3500

// lower is the smaller of a and b, rounded off where they are within r of each other.
func lower(a, b, r float64) float64 {
	h := max(0, 1-math.Abs(a-b)/r)
	return min(a, b) - r*h*h/4
}

// softM is how much higher a stream's surface may be and still count at a divide.
const softM = 3.0

// lastWeight is exp(-3), the weight that is left where a surface stops counting.
const lastWeight = 0.049787068367863944

// softBase averages the elevations of streams, those that set the ground counting most.
type softBase struct{ lowest, weight, sum float64 }

func (b *softBase) add(surface, z float64) {
	if surface < b.lowest {
		fade := math.Exp((surface - b.lowest) / softM)
		b.weight, b.sum, b.lowest = b.weight*fade, b.sum*fade, surface
	}
	if up := surface - b.lowest; up < 3*softM {
		w := math.Exp(-up/softM) - lastWeight*up/(3*softM) // 0 where it stops counting
		b.weight, b.sum = b.weight+w, b.sum+w*z
	}
}

func (b *softBase) mean() float64 { return b.sum / b.weight }
