package draw

import (
	"cmp"
	"slices"
)

// nameLeadMM is from the frame to a name, with room for a bent lead.
const nameLeadMM = 4.5

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
// collide, with a lead between.
func (p plot) names(curves []Curve) []Item {
	var items []Item
	for _, e := range p.curveEnds(curves) {
		x := p.x.toMM + nameLeadMM
		items = append(items, segment(e.tip.X, e.tip.Y, x-0.7, e.nameMM, line(curveColors[e.line], 0.2)),
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
	spread(ends, 1.3*textMM, p.y.fromMM)
	return ends
}

// spread moves names apart: each down from the one above, then all up from the foot.
func spread(ends []curveEnd, stepMM, footMM float64) {
	for i := 1; i < len(ends); i++ {
		ends[i].nameMM = max(ends[i].nameMM, ends[i-1].nameMM+stepMM)
	}
	for i := len(ends) - 1; i >= 0; i-- {
		ends[i].nameMM = min(ends[i].nameMM, footMM-stepMM*float64(len(ends)-1-i))
	}
}
