package draw

import "fmt"

// Estimate is one row of [Estimates]: a value with the ends of its range.
type Estimate struct {
	Name          string
	Value, Lo, Hi float64
}

// Estimates plots values with their ranges in rows, the first on top, each under its name,
// about the line of 0.
//
//   - Units: one for all values, that of the label of X.
//   - Words: "plot.estimate" a mark with its range, "plot.none" the line of 0.
//   - Errors: values that are not finite, Lo <= Value <= Hi not kept, no room.
func Estimates(rows []Estimate, o PlotOptions) (Scene, error) {
	o = o.defaults()
	if len(rows) == 0 {
		return o.nothing()
	}
	area := noExtent()
	for _, r := range rows {
		if !finite(r.Value, r.Lo, r.Hi) || r.Value < r.Lo || r.Hi < r.Value {
			return Scene{}, fmt.Errorf("draw: row %q: %v from %v to %v", r.Name, r.Value, r.Lo, r.Hi)
		}
		area = area.with(Point{r.Lo, 0}, Point{r.Hi, float64(len(rows))})
	}
	p, err := o.newRows(o.reach(area.with(Point{})), len(rows))
	if err != nil {
		return Scene{}, err
	}
	zero := p.x.at(0)
	marks := []Item{segment(zero, p.y.fromMM, zero, p.y.toMM, diagonal)}
	for i, r := range rows {
		marks = append(marks, p.estimate(r, p.y.at(float64(len(rows)-i)))...)
	}
	across := p.frame
	across.number = o.X.Number
	items := append(p.grid(), Group{Items: marks}, outlined(p.box()))
	items = append(items, across.belowAt(p.xTicks, o.X.Label)...)
	return o.sheet(append(p.around, items...)), nil
}

// newRows fits an axis across n rows into a sheet.
func (o PlotOptions) newRows(e extent, n int) (plot, error) {
	around, room, err := o.page([]entry{
		{named("plot.estimate", o.Words), func(at Rect) []Item {
			return lyingMark(at.center(), at.X, at.X+at.WidthMM)
		}},
		lineEntry(named("plot.none", o.Words), diagonal),
	})
	if err != nil {
		return plot{}, err
	}
	p := plot{o: o, around: around, xTicks: o.X.ticksAcross(e.minX, e.maxX, room.WidthMM-8)}
	for i := range n + 1 {
		p.yTicks = append(p.yTicks, float64(i))
	}
	bottom := room.Y + room.HeightMM - belowMM
	if (bottom-room.Y)/float64(n) < 2.2*textMM {
		return plot{}, fmt.Errorf("draw: the sheet is too small for %d rows", n)
	}
	return p.framed(room.X+4, room.X+room.WidthMM-4, bottom, room.Y)
}

// estimate sets a name and its range below the upper edge of a row.
func (p plot) estimate(r Estimate, topMM float64) []Item {
	y := topMM + 1.75*textMM
	items := lyingMark(Point{p.x.at(r.Value), y}, p.x.at(r.Lo), p.x.at(r.Hi))
	return append(items, Text{At: Point{p.x.fromMM + 1, topMM + 1.05*textMM}, Words: r.Name, SizeMM: textMM, Halo: true})
}

// lyingMark is a disc with its range as a lying bar with feet.
func lyingMark(at Point, loMM, hiMM float64) []Item {
	const foot = 0.7
	s := line(plotBlue, 0.3)
	return []Item{
		segment(loMM, at.Y, hiMM, at.Y, s),
		segment(loMM, at.Y-foot, loMM, at.Y+foot, s),
		segment(hiMM, at.Y-foot, hiMM, at.Y+foot, s),
		Circle{Center: at, RadiusMM: 0.95, Fill: Fill{Color: plotBlue}, Stroke: line("#ffffff", 0.2)},
	}
}
