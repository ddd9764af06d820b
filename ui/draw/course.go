package draw

import "fmt"

// CourseMonth is one month of [Course]: what is said of it and what was read.
type CourseMonth struct {
	Name                 string
	Said, Lo, Hi         float64
	Read, ReadLo, ReadHi float64
	N                    int // readings; 0: none, and Read is not drawn
}

// Course plots a yearly course with its range as a band, month by month, and over it what
// was read, with the range of the readings as a bar.
//
//   - Units: one for all values, that of the label of Y.
//   - Words: "plot.course" the line, "plot.course-range" the band, "plot.readings" a mark.
//   - Errors: values that are not finite, ranges that do not hold their value, no room.
func Course(months [12]CourseMonth, o PlotOptions) (Scene, error) {
	o = o.defaults()
	area := noExtent()
	for i, m := range months {
		if !m.holds() {
			return Scene{}, fmt.Errorf("draw: month %d: said %v from %v to %v, read %v from %v to %v", i+1, m.Said, m.Lo, m.Hi, m.Read, m.ReadLo, m.ReadHi)
		}
		area = area.with(Point{float64(i), m.Lo}, Point{float64(i + 1), m.Hi})
		if m.N > 0 {
			area = area.with(Point{float64(i), m.ReadLo}, Point{float64(i), m.ReadHi})
		}
	}
	entries := []entry{
		lineEntry(named("plot.course", o.Words), curveStroke(1)),
		{named("plot.course-range", o.Words), func(at Rect) []Item {
			at.Fill = bandFill
			return []Item{at}
		}},
		{named("plot.readings", o.Words), reliabilitySign},
	}
	p, err := o.newPlot(o.reach(area), entries, 0)
	if err != nil {
		return Scene{}, err
	}
	p.xTicks = nil
	for i := range 13 {
		p.xTicks = append(p.xTicks, float64(i))
	}
	p.x.from, p.x.to = 0, 12
	p.o.X.Number = func(float64) string { return "" } // the names stand between the ticks
	s := p.scene(p.course(months))
	for i, m := range months {
		at := Point{p.x.at(float64(i) + 0.5), p.y.fromMM + 1.6 + textMM}
		s.Items = append(s.Items, Text{At: at, Words: m.Name, SizeMM: textMM, Anchor: Middle})
	}
	return s, nil
}

// holds reports that a month can be drawn.
func (m CourseMonth) holds() bool {
	return finite(m.Said, m.Lo, m.Hi, m.Read, m.ReadLo, m.ReadHi) && m.Lo <= m.Said && m.Said <= m.Hi &&
		(m.N == 0 || m.ReadLo <= m.Read && m.Read <= m.ReadHi)
}

// course lays the band under the line, and the readings over both.
func (p plot) course(months [12]CourseMonth) []Item {
	var said, upper, lower []Point
	for i, m := range months {
		x := float64(i) + 0.5
		said, upper, lower = append(said, p.point(x, m.Said)), append(upper, p.point(x, m.Hi)), append(lower, p.point(x, m.Lo))
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	marks := []Item{Path{Points: upper, Closed: true, Fill: bandFill}, Path{Points: said, Stroke: curveStroke(1)}}
	for i, m := range months {
		if m.N > 0 {
			marks = append(marks, reliabilityMark(p.point(float64(i)+0.5, m.Read), p.y.at(m.ReadLo), p.y.at(m.ReadHi))...)
		}
	}
	return marks
}
