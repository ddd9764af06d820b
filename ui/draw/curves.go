package draw

import (
	"fmt"
	"slices"
)

// Curve is a named line through points given in the values of the axes.
type Curve struct {
	Name   string
	Form   CurveForm
	Points []Point // in the order in which the line runs
}

// CurveForm is how the points of a curve are shown.
type CurveForm uint8

// The forms.
const (
	MarkedLine CurveForm = iota // a line with a few markers, to be told from others
	PlainLine                   // a line without markers, such as a fit among readings
	Dots                        // a marker on every point and no line: what was read
	Band                        // the area within the points: what a fit could as well be
)

// maxCurves is the number of lines that stay distinct.
const maxCurves = 4

// Curves plots up to 4 lines, each with its own dash and marker besides its colour. The
// names stand at the right ends of the lines, or in a legend where they would take
// more than a third of the sheet or not all are marked lines.
//
//   - Units: those of the labels.
//   - Errors: more than 4 lines, values that are not finite, no room.
func Curves(curves []Curve, o PlotOptions) (Scene, error) {
	o = o.defaults()
	area, err := curvesExtent(curves)
	if err != nil {
		return Scene{}, err
	}
	if area == noExtent() {
		return o.nothing()
	}
	var entries []entry
	names := namesWidth(curves)
	direct := names <= o.WidthMM/3 && !slices.ContainsFunc(curves, func(c Curve) bool { return c.Form != MarkedLine })
	if !direct {
		entries, names = curveEntries(curves), 0
	}
	p, err := o.newPlot(o.reach(area), entries, names)
	if err != nil {
		return Scene{}, err
	}
	s := p.scene(p.curves(curves))
	if direct {
		s.Items = append(s.Items, p.names(curves)...)
	}
	return s, nil
}

// curvesExtent is [noExtent] where no line has a point.
func curvesExtent(curves []Curve) (extent, error) {
	e := noExtent()
	if len(curves) > maxCurves {
		return e, fmt.Errorf("draw: %d lines in one plot; %d stay distinct", len(curves), maxCurves)
	}
	for _, c := range curves {
		for _, p := range c.Points {
			if !finite(p.X, p.Y) {
				return e, fmt.Errorf("draw: line %q goes through %v, %v", c.Name, p.X, p.Y)
			}
		}
		e = e.with(c.Points...)
	}
	if e == noExtent() {
		return e, nil
	}
	return e, e.check()
}

// curves draws the areas, over them the lines, and over all of them the markers.
func (p plot) curves(curves []Curve) []Item {
	var areas, lines, markers []Item
	for i, c := range curves {
		points := p.points(c.Points)
		switch {
		case c.Form == Band:
			areas = append(areas, Path{Points: points, Closed: true, Fill: withinFill})
			continue
		case c.Form == Dots:
		case len(points) > 1:
			lines = append(lines, Path{Points: points, Stroke: c.stroke(i)})
		}
		for _, at := range c.marked(i, points) {
			markers = append(markers, curveMarker(i, at))
		}
	}
	return append(append(areas, lines...), markers...)
}

// marked chooses the points of line i that are marked: up to 6, not the same ones for each
// line, or as its form has it.
func (c Curve) marked(i int, points []Point) []Point {
	const most = 6
	switch {
	case c.Form == PlainLine:
		return nil
	case c.Form == Dots, len(points) <= most:
		return points
	}
	var out []Point
	for k := range most {
		share := (float64(k) + (float64(i)+0.5)/maxCurves) / most
		out = append(out, points[int(share*float64(len(points)))])
	}
	return out
}
