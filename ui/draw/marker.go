package draw

import (
	"fmt"
	"math"
)

// Outcomes returns the keys of bore outcomes that have a marker, in legend order.
func Outcomes() []string {
	return []string{"producing", "low-yield", "bad-water", "dry", "refused", "collapsed", "failed", "unknown"}
}

// marker draws an outcome at a point: each has its own shape, so that the colour is
// never needed. It returns an error for a key that is not known.
func marker(outcome string, at Point) ([]Item, error) {
	const r = 1.2
	edge := line(ink, 0.25)
	disc := func(color string) Item {
		return Circle{Center: at, RadiusMM: r, Fill: Fill{Color: color}, Stroke: edge}
	}
	polygon := func(color string, n int, start float64) Item {
		return Path{Points: around(at, 1.25*r, n, start, 360), Closed: true, Fill: Fill{Color: color}, Stroke: edge}
	}
	switch outcome {
	case "producing":
		return []Item{disc("#1769aa")}, nil
	case "low-yield":
		lower := Path{Points: around(at, r, 17, 0, 180*17.0/16), Closed: true, Fill: Fill{Color: "#1769aa"}}
		return []Item{disc("#ffffff"), lower}, nil
	case "bad-water":
		return []Item{polygon("#8e5ea2", 4, 90)}, nil
	case "dry":
		return []Item{polygon("#ffffff", 3, -90)}, nil
	case "refused":
		return []Item{polygon("#3b3b3b", 4, 45)}, nil
	case "collapsed":
		return []Item{polygon("#d9822b", 3, 90)}, nil
	case "failed":
		d := 0.7 * r
		return []Item{disc("#ffffff"), segment(at.X-d, at.Y+d, at.X+d, at.Y-d, line(ink, 0.35))}, nil
	case "unknown":
		d := 0.8 * r
		return []Item{
			segment(at.X-d, at.Y-d, at.X+d, at.Y+d, line(ink, 0.35)),
			segment(at.X-d, at.Y+d, at.X+d, at.Y-d, line(ink, 0.35)),
		}, nil
	}
	return nil, fmt.Errorf("draw: no marker for outcome %q; the keys are those of Outcomes", outcome)
}

// around returns n points on a circle, evenly over an arc in degrees, clockwise on paper.
func around(c Point, r float64, n int, start, arc float64) []Point {
	out := make([]Point, n)
	for i := range out {
		a := (start + arc*float64(i)/float64(n)) * math.Pi / 180
		out[i] = Point{c.X + r*math.Cos(a), c.Y + r*math.Sin(a)}
	}
	return out
}

// siteMarker marks the point the drawing is about.
func siteMarker(at Point) []Item {
	return []Item{
		Circle{Center: at, RadiusMM: 2.4, Stroke: line("#ffffff", 1)},
		Circle{Center: at, RadiusMM: 2.4, Stroke: line("#b3261e", 0.5)},
		dot("#b3261e", at.X, at.Y, 0.5),
	}
}
