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
	floor   float64 // 1 at a river, 0 at the edge of its floor
	plateau float64 // 0 on slopes, 1 on what is left of the old land surface
	order   int     // of the stream it drains to; 0 for the sea
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
	out := relief{shoreM: shore, toM: math.Abs(shore)}
	lowest, base := l.beach(shore)+l.dunes(p, shore), 0.0
	var weight, around float64
	bank := math.Inf(1) // distance to the nearest floor
	bases := softBase{lowest: lowest, weight: 1}
	for _, i := range l.segments.near(p) {
		s := &l.segments.items[i]
		n := s.near(p)
		if n.z+leastSlope*(n.d-n.half) < lowest+3*softM {
			h := l.side(n.d, n.half)
			bases.add(n.z+h, n.z)
			if n.z+h < lowest {
				lowest, base = n.z+h, n.z
				out.toM, out.order = n.d, s.order
			}
		}
		bank = min(bank, n.d-n.half)
		if f := n.d / n.half; f < 1 {
			out.floor = max(out.floor, 1-f)
			out.fillM = max(out.fillM, n.fill*math.Pow(1-f*f, 0.7))
		}
		w := max(0, 1-n.d/surfaceM)
		weight, around = weight+w*w, around+w*w*n.z
	}
	if shore < 0 {
		out.groundM, out.aboveM, out.overM = lowest, lowest, lowest
		return out
	}
	middle := bases.mean()
	over := clamp(lowest-middle, 0, 25)
	ground := lowest + 0.08*over*ramp(bank, 50, 700)*clamp(l.fields[undulationField].at(p), -1.5, 1.5)
	if weight > 0 {
		old := around/weight + l.plateauM*(1+0.22*l.fields[planationField].at(p))
		out.plateau = ramp(ground-old, -9, 3) * ramp(weight, 0, 0.4)
		planed := lower(ground, max(old, middle+12), 12)
		ground = mix(ground, planed, ramp(weight, 0, 0.4)) // hills stand where no stream is near
	}
	out.groundM, out.aboveM, out.overM = ground, ground-base, ground-middle
	return out
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

// softBase averages the elevations of streams, those that set the ground counting most.
type softBase struct{ lowest, weight, sum float64 }

func (b *softBase) add(surface, z float64) {
	if surface < b.lowest {
		fade := math.Exp((surface - b.lowest) / softM)
		b.weight, b.sum, b.lowest = b.weight*fade, b.sum*fade, surface
	}
	if up := surface - b.lowest; up < 3*softM {
		w := math.Exp(-up/softM) - math.Exp(-3)*up/(3*softM) // 0 where it stops counting
		b.weight, b.sum = b.weight+w, b.sum+w*z
	}
}

func (b *softBase) mean() float64 { return b.sum / b.weight }
