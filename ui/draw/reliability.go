package draw

import (
	"fmt"
	"slices"
)

// ReliabilityBin holds the sites about which much the same chance was said.
type ReliabilityBin struct {
	Said   float64 // mean of the chances said
	Found  float64 // share that came true
	Lo, Hi float64 // range of that share
	N      int     // sites
}

// Reliability plots the share that came true (upwards) against the mean of what was
// said (to the right), bin by bin, on one square scale from 0 to 1. At each bar
// stands the number of sites; bins without sites are left out.
//
//   - Units: shares in [0,1].
//   - Words: "plot.equal" the line of agreement, "plot.share" a mark with its range.
//   - Errors: shares outside [0,1], Lo <= Found <= Hi not kept, a number of sites below
//     0, no room.
func Reliability(bins []ReliabilityBin, o PlotOptions) (Scene, error) {
	o = o.defaults()
	for i, b := range bins {
		if !b.holds() {
			return Scene{}, fmt.Errorf("draw: bin %d of %d sites: said %v, found %v from %v to %v", i+1, b.N, b.Said, b.Found, b.Lo, b.Hi)
		}
	}
	bins = slices.DeleteFunc(slices.Clone(bins), func(b ReliabilityBin) bool { return b.N == 0 })
	if len(bins) == 0 {
		return o.nothing()
	}
	p, err := o.newSquare(extent{0, 0, 1, 1}, []entry{
		lineEntry(named("plot.equal", o.Words), diagonal),
		{named("plot.share", o.Words), reliabilitySign},
	})
	if err != nil {
		return Scene{}, err
	}
	marks := p.diagonal()
	for _, b := range bins {
		at, lo, hi := p.point(b.Said, b.Found), p.y.at(b.Lo), p.y.at(b.Hi)
		marks = append(marks, reliabilityMark(at, lo, hi)...)
		marks = append(marks, p.reliabilityCount(at.X, lo, hi, b.N))
	}
	return p.scene(marks), nil
}

// holds tells whether a bin can be drawn; one without sites has nothing to hold to.
func (b ReliabilityBin) holds() bool {
	return b.N == 0 || b.N > 0 && b.Said >= 0 && b.Said <= 1 && b.Lo >= 0 && b.Lo <= b.Found && b.Found <= b.Hi && b.Hi <= 1
}

func reliabilitySign(at Rect) []Item {
	return reliabilityMark(at.center(), at.Y+at.HeightMM, at.Y)
}

// reliabilityMark is a disc with its range as a bar with feet.
func reliabilityMark(at Point, loMM, hiMM float64) []Item {
	const foot = 0.7
	s := line(plotBlue, 0.3)
	return []Item{
		segment(at.X, loMM, at.X, hiMM, s),
		segment(at.X-foot, loMM, at.X+foot, loMM, s),
		segment(at.X-foot, hiMM, at.X+foot, hiMM, s),
		Circle{Center: at, RadiusMM: 0.95, Fill: Fill{Color: plotBlue}, Stroke: line("#ffffff", 0.2)},
	}
}

// reliabilityCount stands under the bar, or over it where the frame ends too soon. The
// bars of the neighbours are higher and lower, so that it stays clear of them.
func (p plot) reliabilityCount(x, loMM, hiMM float64, n int) Item {
	words := p.o.Count(n)
	y := loMM + 1.1*textMM
	if y > p.y.fromMM-0.5 {
		y = max(hiMM-0.4*textMM, p.y.toMM+textMM)
	}
	half := textWidth(words, textMM)/2 + 0.5
	x = min(max(x, p.x.fromMM+half), p.x.toMM-half)
	return Text{At: Point{x, y}, Words: words, SizeMM: textMM, Anchor: Middle, Halo: true}
}
