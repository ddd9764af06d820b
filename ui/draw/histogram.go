package draw

import "fmt"

// HistogramData are counts over even bins from From to To, and the count expected of
// each bin with its range.
type HistogramData struct {
	From, To         float64
	Counts           []int
	Expected, Lo, Hi float64
}

var (
	barFill    = Fill{Color: "#9db4cf"}
	barEdge    = line(ink, 0.2)
	bandFill   = Fill{Color: "#efe6d2"}
	bandEdge   = line("#8a5a00", 0.3, 0.9, 0.7)
	expectLine = line("#8a5a00", 0.5)
)

// Histogram plots counts as bars, with the count expected as a line and its range as a
// band. For the places of what was found within what was said (PIT) From and To are 0
// and 1, and all bars should reach about the line.
//
//   - Units: From, To and the horizontal axis in one unit; counts and expected counts in sites.
//   - Words: "plot.count" a bar, "plot.expected" the line, "plot.band" its range.
//   - Errors: From not below To, a count below 0, Lo <= Expected <= Hi not kept, no room.
func Histogram(d HistogramData, o PlotOptions) (Scene, error) {
	if o.Y.Number == nil && o.Count != nil {
		o.Y.Number = func(v float64) string { return o.Count(int(v)) }
	}
	o = o.defaults()
	o.Y.whole = true
	most, err := d.check()
	if err != nil {
		return Scene{}, err
	}
	if most == 0 {
		return o.nothing()
	}
	area := o.reach(extent{d.From, 0, d.To, max(float64(most), d.Hi)})
	p, err := o.newPlot(area, o.histogramEntries(), 0)
	if err != nil {
		return Scene{}, err
	}
	return p.scene(d.marks(p)), nil
}

// check returns the greatest count.
func (d HistogramData) check() (most int, err error) {
	if !finite(d.From, d.To) || !(d.From < d.To) {
		return 0, fmt.Errorf("draw: a histogram from %v to %v", d.From, d.To)
	}
	if !finite(d.Expected, d.Lo, d.Hi) || d.Lo < 0 || d.Expected < d.Lo || d.Hi < d.Expected {
		return 0, fmt.Errorf("draw: expected count %v from %v to %v", d.Expected, d.Lo, d.Hi)
	}
	for i, n := range d.Counts {
		if n < 0 {
			return 0, fmt.Errorf("draw: bin %d has the count %d", i+1, n)
		}
		most = max(most, n)
	}
	return most, nil
}

// marks lays the band behind the bars, and its edges and the line over them.
func (d HistogramData) marks(p plot) []Item {
	left, right := p.x.at(d.From), p.x.at(d.To)
	across := func(count float64, s Stroke) Item {
		return segment(left, p.y.at(count), right, p.y.at(count), s)
	}
	marks := []Item{Rect{left, p.y.at(d.Hi), right - left, p.y.at(d.Lo) - p.y.at(d.Hi), bandFill, Stroke{}}}
	width := (right - left) / float64(len(d.Counts))
	for i, n := range d.Counts {
		top := p.y.at(float64(n))
		marks = append(marks, Rect{left + (float64(i)+0.1)*width, top, 0.8 * width, p.y.at(0) - top, barFill, barEdge})
	}
	return append(marks, across(d.Lo, bandEdge), across(d.Hi, bandEdge),
		across(d.Expected, line("#ffffff", 0.8)), across(d.Expected, expectLine))
}

func (o PlotOptions) histogramEntries() []entry {
	box := func(at Rect, f Fill, s Stroke) []Item {
		at.Fill, at.Stroke = f, s
		return []Item{at}
	}
	return []entry{
		{named("plot.count", o.Words), func(at Rect) []Item { return box(at, barFill, barEdge) }},
		lineEntry(named("plot.expected", o.Words), expectLine),
		{named("plot.band", o.Words), func(at Rect) []Item { return box(at, bandFill, bandEdge) }},
	}
}
