package draw

import (
	"cmp"
	"math"
	"slices"
)

const (
	deeperColor    = "#7d2a08"
	shallowerColor = "#1769aa"
)

// gauge turns the size of a miss into that of its mark: area for size.
type gauge struct{ fullM, fullMM float64 }

// newGauge gives the largest miss a mark that is smaller where many share the sheet.
func newGauge(misses []Miss, sheetMM2 float64) gauge {
	g := gauge{fullMM: min(2.8, max(1.1, 0.4*math.Sqrt(sheetMM2/float64(len(misses)))))}
	for _, m := range misses {
		g.fullM = max(g.fullM, math.Abs(m.DeeperM))
	}
	return g
}

// mark is a triangle down for deeper, up for shallower, a dot for no miss. The least
// triangle is large enough to tell which way it points.
func (g gauge) mark(at Point, deeperM float64) Item {
	if deeperM == 0 {
		return dot(ink, at.X, at.Y, 0.3)
	}
	const least, edge = 0.6, 0.25
	r := max(least, g.fullMM*math.Sqrt(math.Abs(deeperM)/g.fullM))
	if deeperM > 0 {
		return Path{Points: around(at, r, 3, 90, 360), Closed: true, Fill: Fill{Color: deeperColor}, Stroke: line("#ffffff", 0.1)}
	}
	// An edge of the width w carries the corners out by w: so drawn, both are of one size.
	return Path{Points: around(at, r-edge, 3, -90, 360), Closed: true, Fill: Fill{Color: "#ffffff"}, Stroke: line(shallowerColor, edge)}
}

// marks draws the largest misses first, so that no mark is hidden under a larger one.
func (g gauge) marks(f frame, misses []Miss) []Item {
	sorted := slices.Clone(misses)
	slices.SortStableFunc(sorted, func(a, b Miss) int { return cmp.Compare(math.Abs(b.DeeperM), math.Abs(a.DeeperM)) })
	items := make([]Item, len(sorted))
	for i, m := range sorted {
		items[i] = g.mark(f.point(1000*m.XKM, 1000*m.YKM), m.DeeperM)
	}
	return items
}

// samples are round sizes for the legend: near the largest, and about a tenth of it.
func (g gauge) samples() []float64 {
	if g.fullM == 0 {
		return nil
	}
	large := roundStep(g.fullM)
	for below := g.fullM; large > g.fullM; {
		below /= 1.5
		large = roundStep(below)
	}
	return []float64{tidy(large / 10), large}
}

// entries explains both marks, their size, and the blocks where there are any.
func (o MissesOptions) entries(g gauge, blocks bool) []entry {
	sign := func(words string, deeperM float64) entry {
		return entry{words, func(at Rect) []Item { return []Item{g.mark(at.center(), deeperM)} }}
	}
	write := o.Depth
	if write == nil {
		write = plainDistance
	}
	samples := g.samples()
	if g.fullM == 0 {
		g.fullM = 1 // nothing missed: the signs are explained all the same
	}
	usual := g.fullM / 2 // any size shows the shape
	entries := []entry{sign(named("plot.deeper", o.Words), usual), sign(named("plot.shallower", o.Words), -usual)}
	for _, m := range samples {
		entries = append(entries, sign(write(m), m))
	}
	if blocks {
		entries = append(entries, entry{named("plot.block", o.Words), func(at Rect) []Item {
			at.Stroke = blockLine
			return []Item{at}
		}})
	}
	return entries
}
