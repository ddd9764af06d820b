package draw

// curveColors go from light to dark, so that lines differ on a grey print too.
var curveColors = [maxCurves]string{"#bf8212", "#0f6f90", "#7d1d48", "#0d1219"}

// curveStroke is the line of the i-th curve: a dash of its own besides the colour.
func curveStroke(i int) Stroke {
	dashes := [maxCurves][]float64{nil, {2.6, 0.9}, {0.7, 0.7}, {3, 0.7, 0.6, 0.7}}
	return line(curveColors[i], 0.5, dashes[i]...)
}

// withinFill is light enough to read lines and markers over it.
var withinFill = Fill{Color: "#e4dfe6"}

// stroke is the line of a curve that is the i-th; a plain line is told by being the only one.
func (c Curve) stroke(i int) Stroke {
	if c.Form == PlainLine {
		return line(curveColors[i], 0.5)
	}
	return curveStroke(i)
}

// curveMarker is the sign of the i-th curve: a shape of its own.
func curveMarker(i int, at Point) Item {
	const r = 0.95
	fill, edge := Fill{Color: curveColors[i]}, line("#ffffff", 0.2)
	polygon := func(radius float64, n int, start float64) Item {
		return Path{Points: around(at, radius, n, start, 360), Closed: true, Fill: fill, Stroke: edge}
	}
	switch i {
	case 0:
		return Circle{Center: at, RadiusMM: r, Fill: fill, Stroke: edge}
	case 1:
		return polygon(1.25*r, 4, 45)
	case 2:
		return polygon(1.35*r, 3, -90)
	default:
		return polygon(1.3*r, 4, 90)
	}
}

// curveEntries is the legend of the curves that have points.
func curveEntries(curves []Curve) []entry {
	var entries []entry
	for i, c := range curves {
		if len(c.Points) == 0 {
			continue
		}
		entries = append(entries, entry{c.Name, func(at Rect) []Item {
			y := at.center().Y
			through := segment(at.X, y, at.X+at.WidthMM, y, c.stroke(i))
			switch c.Form {
			case Band:
				at.Fill = withinFill
				return []Item{at}
			case PlainLine:
				return []Item{through}
			case Dots:
				return []Item{curveMarker(i, at.center())}
			}
			return []Item{through, curveMarker(i, at.center())}
		}})
	}
	return entries
}
