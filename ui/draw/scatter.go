package draw

import (
	"fmt"
	"slices"
)

// ScatterPoint is one site in [Scatter]. Where Hi is above Lo, they are the ends of the
// range given with what was said.
type ScatterPoint struct{ Found, Said, Lo, Hi float64 }

// Above these numbers of points [Scatter] leaves out the bars, or counts the points by
// squares instead of drawing each.
const (
	scatterBars   = 200
	scatterPoints = 600
)

const (
	plotBlue   = "#1769aa"
	rangeColor = "#7f8fa3"
)

// diagonal is where what was said is what was found.
var diagonal = line(ink, 0.3, 1.6, 0.9)

// Scatter plots what was said (upwards) against what was found (to the right), on one
// square scale from 0, with the line on which both agree. Values below 0 extend it.
// Up to 200 points have their range as an upright bar; more than 600 are counted by
// small squares, the more points the larger and darker. The legend says which.
//
//   - Units: one unit for all values, that of the labels.
//   - Words: "plot.equal" the line, "plot.site" a point, "plot.range" a bar,
//     "plot.per-square" after the counts of the squares.
//   - Errors: values that are not finite, Hi below Lo, no room.
func Scatter(points []ScatterPoint, o PlotOptions) (Scene, error) {
	o = o.defaults()
	if len(points) == 0 {
		return o.nothing()
	}
	bars := len(points) <= scatterBars && slices.ContainsFunc(points, ScatterPoint.ranged)
	area, err := scatterExtent(points, bars)
	if err != nil {
		return Scene{}, err
	}
	area = o.reach(area.with(Point{}))
	if len(points) > scatterPoints {
		d := newDensity(points, area)
		p, err := o.newSquare(area, d.entries(o))
		if err != nil {
			return Scene{}, err
		}
		return p.scene(append(d.marks(p), p.diagonal()...)), nil
	}
	p, err := o.newSquare(area, o.scatterEntries(len(points), bars))
	if err != nil {
		return Scene{}, err
	}
	marks := p.diagonal()
	if bars {
		marks = append(marks, p.scatterBars(points)...)
	}
	for _, s := range points {
		marks = append(marks, scatterMark(p.point(s.Found, s.Said), len(points)))
	}
	return p.scene(marks), nil
}

func (s ScatterPoint) ranged() bool { return s.Hi > s.Lo }

func scatterExtent(points []ScatterPoint, bars bool) (extent, error) {
	e := noExtent()
	for i, s := range points {
		if !finite(s.Found, s.Said, s.Lo, s.Hi) || s.Hi < s.Lo {
			return extent{}, fmt.Errorf("draw: point %d: found %v, said %v from %v to %v", i+1, s.Found, s.Said, s.Lo, s.Hi)
		}
		e = e.with(Point{s.Found, s.Said})
		if bars && s.ranged() {
			e = e.with(Point{s.Found, s.Lo}, Point{s.Found, s.Hi})
		}
	}
	return e, e.check()
}

// diagonal runs from corner to corner of a square plot, with a white rim to show over
// dark marks.
func (p plot) diagonal() []Item {
	from, to := p.point(p.x.from, p.y.from), p.point(p.x.to, p.y.to)
	return []Item{
		segment(from.X, from.Y, to.X, to.Y, line("#ffffff", 0.6)),
		segment(from.X, from.Y, to.X, to.Y, diagonal),
	}
}

func (p plot) scatterBars(points []ScatterPoint) []Item {
	var items []Item
	for _, s := range points {
		if s.ranged() {
			lo, hi := p.point(s.Found, s.Lo), p.point(s.Found, s.Hi)
			items = append(items, segment(lo.X, lo.Y, hi.X, hi.Y, line(rangeColor, 0.2)))
		}
	}
	return items
}

// scatterMark is one ring of n: where rings overlap each still shows.
func scatterMark(at Point, n int) Item {
	if n > scatterBars {
		return Circle{Center: at, RadiusMM: 0.45, Stroke: line(plotBlue, 0.2)}
	}
	return Circle{Center: at, RadiusMM: 0.65, Stroke: line(plotBlue, 0.3)}
}

func (o PlotOptions) scatterEntries(n int, bars bool) []entry {
	entries := []entry{
		lineEntry(named("plot.equal", o.Words), diagonal),
		{named("plot.site", o.Words), func(at Rect) []Item { return []Item{scatterMark(at.center(), n)} }},
	}
	if bars {
		entries = append(entries, entry{named("plot.range", o.Words), func(at Rect) []Item {
			x := at.center().X
			return []Item{segment(x, at.Y, x, at.Y+at.HeightMM, line(rangeColor, 0.2))}
		}})
	}
	return entries
}
