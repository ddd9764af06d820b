package draw

import "math"

// densityShades run from few to many; the first stands out from paper, and each from
// the one before on a grey print.
var densityShades = [...]string{"#738fba", "#557aa9", "#3c608e", "#27466f", "#122a4a"}

// densityAcross is the number of squares along an axis: about 1.5 mm on a small sheet,
// near the size of a single mark.
const densityAcross = 44

// density counts points by squares of the plane.
type density struct {
	from, size float64 // lower left corner of the first square, and side, in the values' unit
	counts     [densityAcross][densityAcross]int
	starts     []int // least count of each grade
}

// newDensity divides an area, which must hold all points.
func newDensity(points []ScatterPoint, area extent) density {
	lo, hi := min(area.minX, area.minY), max(area.maxX, area.maxY)
	d := density{from: lo, size: (hi - lo) / densityAcross}
	cell := func(v float64) int { return min(densityAcross-1, int((v-d.from)/d.size)) }
	most := 0
	for _, s := range points {
		n := &d.counts[cell(s.Said)][cell(s.Found)]
		*n++
		most = max(most, *n)
	}
	d.starts = gradeStarts(most, len(densityShades))
	return d
}

// gradeStarts divides the counts from 1 to most into at most n grades of even ratio,
// and returns the least count of each, then the first count beyond.
func gradeStarts(most, n int) []int {
	starts := []int{1}
	for i := 1; i < n; i++ {
		start := int(math.Ceil(math.Pow(float64(most), float64(i)/float64(n))))
		if start > starts[len(starts)-1] && start <= most {
			starts = append(starts, start)
		}
	}
	return append(starts, most+1)
}

func (d density) grades() int { return len(d.starts) - 1 }

// grade is the place of a count among the starts; the count is at least 1.
func (d density) grade(count int) int {
	g := 0
	for g+1 < d.grades() && count >= d.starts[g+1] {
		g++
	}
	return g
}

// mark is the square of a grade, at most sideMM wide.
func (d density) mark(center Point, grade int, sideMM float64) Item {
	side := sideMM * (0.5 + 0.42*float64(grade+1)/float64(d.grades()))
	return Rect{center.X - side/2, center.Y - side/2, side, side, Fill{Color: densityShades[grade]}, Stroke{}}
}

// marks draws the squares that hold points.
func (d density) marks(p plot) []Item {
	var items []Item
	sideMM := p.x.at(d.from+d.size) - p.x.at(d.from)
	for row, counts := range d.counts {
		for column, count := range counts {
			if count > 0 {
				x, y := d.from+(float64(column)+0.5)*d.size, d.from+(float64(row)+0.5)*d.size
				items = append(items, d.mark(p.point(x, y), d.grade(count), sideMM))
			}
		}
	}
	return items
}

// entries tells the counts of each grade, and after the last of what they are.
func (d density) entries(o PlotOptions) []entry {
	entries := []entry{lineEntry(named("plot.equal", o.Words), diagonal)}
	for g := range d.grades() {
		first, last := d.starts[g], d.starts[g+1]-1
		words := o.Count(first)
		if last > first {
			words += "–" + o.Count(last)
		}
		if g == d.grades()-1 {
			words += " " + named("plot.per-square", o.Words)
		}
		entries = append(entries, entry{words, func(at Rect) []Item { return []Item{d.mark(at.center(), g, 1.6)} }})
	}
	return entries
}
