package draw

// Type sizes in mm: 2.6 mm is about 7.5 points.
const (
	textMM  = 2.6
	titleMM = 3.4
)

// axis maps values onto a stretch of paper.
type axis struct{ from, to, fromMM, toMM float64 }

func (a axis) at(v float64) float64 {
	return a.fromMM + (v-a.from)/(a.to-a.from)*(a.toMM-a.fromMM)
}

// ticks returns round values about every spacing mm.
func (a axis) ticks(spacingMM float64) []float64 {
	length := max(a.toMM-a.fromMM, a.fromMM-a.toMM)
	return Ticks(min(a.from, a.to), max(a.from, a.to), max(1, int(length/spacingMM)))
}

// frame is the part of a sheet where things are plotted.
type frame struct {
	x, y   axis
	number func(float64) string
}

// point maps a pair of values onto the paper.
func (f frame) point(x, y float64) Point { return Point{f.x.at(x), f.y.at(y)} }

func (f frame) points(values []Point) []Point {
	out := make([]Point, len(values))
	for i, p := range values {
		out[i] = f.point(p.X, p.Y)
	}
	return out
}

func (f frame) box() Rect {
	return Rect{
		X: f.x.fromMM, WidthMM: f.x.toMM - f.x.fromMM,
		Y: min(f.y.fromMM, f.y.toMM), HeightMM: max(f.y.toMM-f.y.fromMM, f.y.fromMM-f.y.toMM),
	}
}

func (f frame) clip() []Point {
	b := f.box()
	return []Point{{b.X, b.Y}, {b.X + b.WidthMM, b.Y}, {b.X + b.WidthMM, b.Y + b.HeightMM}, {b.X, b.Y + b.HeightMM}}
}

// left draws the vertical axis with its label at the left side.
func (f frame) left(label string) []Item { return f.leftAt(f.y.ticks(9), label, 9) }

// leftAt draws it with the given ticks, the label's base line labelMM from the axis.
func (f frame) leftAt(ticks []float64, label string, labelMM float64) []Item {
	x, b := f.x.fromMM, f.box()
	items := []Item{segment(x, b.Y, x, b.Y+b.HeightMM, line(ink, 0.25))}
	for _, t := range ticks {
		y := f.y.at(t)
		items = append(items, segment(x-1, y, x, y, line(ink, 0.25)),
			Text{At: Point{x - 1.6, y + 0.35*textMM}, Words: f.number(t), SizeMM: textMM, Anchor: End})
	}
	middle := Point{x - labelMM, b.Y + b.HeightMM/2}
	return append(items, Text{At: middle, Words: label, SizeMM: textMM, Anchor: Middle, Rotate: -90})
}

// below draws the horizontal axis with its label under the frame.
func (f frame) below(label string) []Item { return f.belowAt(f.x.ticks(18), label) }

// belowAt draws it with the given ticks.
func (f frame) belowAt(ticks []float64, label string) []Item {
	b := f.box()
	y := b.Y + b.HeightMM
	items := []Item{segment(b.X, y, b.X+b.WidthMM, y, line(ink, 0.25))}
	for _, t := range ticks {
		x := f.x.at(t)
		items = append(items, segment(x, y, x, y+1, line(ink, 0.25)),
			Text{At: Point{x, y + 1.6 + textMM}, Words: f.number(t), SizeMM: textMM, Anchor: Middle})
	}
	return append(items, Text{At: Point{b.X + b.WidthMM/2, y + 2.6 + 2*textMM}, Words: label, SizeMM: textMM, Anchor: Middle})
}

// textWidth is a cautious estimate for laying things out side by side: no font is
// measured here, and common sans-serif faces average a little over half the size.
func textWidth(words string, sizeMM float64) float64 {
	return 0.56 * sizeMM * float64(len([]rune(words)))
}
