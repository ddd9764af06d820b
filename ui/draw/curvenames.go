package draw

import (
	"cmp"
	"slices"
)

// nameLeadMM is from the frame to a name, with room for a bent lead and a marker.
const nameLeadMM = 6.5

// namesWidth is the room for names beside the frame.
func namesWidth(curves []Curve) float64 {
	width := 0.0
	for _, c := range curves {
		width = max(width, nameLeadMM+textWidth(c.Name, textMM))
	}
	return width
}

// curveEnd is where a line ends on the right, and the height its name is set at.
type curveEnd struct {
	line   int
	tip    Point
	nameMM float64
}

// names sets each name beside the end of its line, moved up or down where two would
// collide, with a lead and the line's marker between.
func (p plot) names(curves []Curve) []Item {
	var items []Item
	for _, e := range p.curveEnds(curves) {
		x := p.x.toMM + nameLeadMM
		items = append(items, segment(e.tip.X, e.tip.Y, x-1.8, e.nameMM, line(curveColors[e.line], 0.2)),
			curveMarker(e.line, Point{x - 1.8, e.nameMM}),
			Text{At: Point{x, e.nameMM + 0.35*textMM}, Words: curves[e.line].Name, SizeMM: textMM, Halo: true})
	}
	return items
}

// curveEnds lists the ends of lines from top to bottom.
func (p plot) curveEnds(curves []Curve) []curveEnd {
	var ends []curveEnd
	for i, c := range curves {
		if len(c.Points) > 0 {
			tip := slices.MaxFunc(p.points(c.Points), func(a, b Point) int { return cmp.Compare(a.X, b.X) })
			ends = append(ends, curveEnd{i, tip, tip.Y})
		}
	}
	slices.SortStableFunc(ends, func(a, b curveEnd) int { return cmp.Compare(a.tip.Y, b.tip.Y) })
	spread(ends, 1.3*textMM, p.y.toMM, p.y.fromMM)
	return ends
}

// spread moves names apart with the least moving in all: taking one step off for each
// name above, names that must not cross are values that must not fall, and those that
// do share their mean (pooling of adjacent violators). No name goes
// above the head or below the foot.
func spread(ends []curveEnd, stepMM, headMM, footMM float64) {
	type pool struct {
		sum float64
		n   int
	}
	var pools []pool
	for i, e := range ends {
		p := pool{e.tip.Y - stepMM*float64(i), 1}
		for k := len(pools) - 1; k >= 0 && pools[k].sum/float64(pools[k].n) > p.sum/float64(p.n); k-- {
			p = pool{p.sum + pools[k].sum, p.n + pools[k].n}
			pools = pools[:k]
		}
		pools = append(pools, p)
	}
	lowest := footMM - stepMM*float64(len(ends)-1)
	i := 0
	for _, p := range pools {
		for range p.n {
			ends[i].nameMM = min(max(p.sum/float64(p.n), headMM), lowest) + stepMM*float64(i)
			i++
		}
	}
}
