package draw

import "slices"

// SectionRange is the range of a water level at one place of a section.
type SectionRange struct {
	X              float64 // distance along the section, m
	LoElev, HiElev float64 // m
}

// SectionColumn is what is known of the layers at one place of a section, by depth.
type SectionColumn struct {
	X, TopElev float64 // m
	Layers     []ColumnLayer
}

// SectionBore is a bore set onto the section from the side. One without layers is drawn as
// a stick.
type SectionBore struct {
	X                 float64 // distance along the section, m
	TopElev, BaseElev float64 // m
	Layers            []ColumnLayer
	Deeper            bool   // it goes on below what is drawn
	Outcome           string // key, one of Outcomes
	Label             string
}

// Widths of columns in mm: what is expected is drawn wider than what was logged. Columns
// that would touch are drawn narrower, down to the narrowest in which a pattern shows.
const (
	expectedMM = 9.0
	loggedMM   = 3.0
	narrowMM   = 1.5
)

// expectedWidth is how wide columns may be without touching their neighbours, mm.
func expectedWidth(f frame, columns []SectionColumn) float64 {
	width := expectedMM
	for i := 1; i < len(columns); i++ {
		apart := f.x.at(columns[i].X) - f.x.at(columns[i-1].X)
		width = min(width, max(0.5*max(apart, -apart), narrowMM))
	}
	return width
}

func sectionColumns(f frame, columns []SectionColumn) []Item {
	width := expectedWidth(f, columns)
	var items []Item
	for _, c := range columns {
		items = append(items, columnLayers(f.strip(c.X, c.TopElev, width), c.Layers)...)
	}
	return items
}

// strip is the frame of a column whose top stands at an elevation: shares across, depth
// down.
func (f frame) strip(x, topElev, widthMM float64) frame {
	middle := f.x.at(x)
	return frame{
		x: axis{0, 1, middle - widthMM/2, middle + widthMM/2},
		y: axis{0, 1, f.y.at(topElev), f.y.at(topElev - 1)},
	}
}

// sectionBores draws each bore with its outcome on top and its name above that.
func sectionBores(f frame, bores []SectionBore, names []boreName) []Item {
	var items []Item
	for _, row := range boreRows(f, bores) {
		items = append(items, boreShafts(f, row)...)
	}
	for i, b := range bores {
		at := boreSign(f, b)
		sign, _ := marker(b.Outcome, at) // checked by sectionEntries
		if names[i].there {
			items = append(items, segment(at.X, at.Y, at.X, names[i].at.Y, line(ink, 0.12)))
		}
		items = append(items, sign...)
	}
	for i, b := range bores {
		if names[i].there {
			at, wide := names[i].at, textWidth(b.Label, textMM)
			behind := Rect{X: at.X - wide/2, Y: at.Y - 0.85*textMM, WidthMM: wide, HeightMM: 1.05 * textMM, Fill: Fill{Color: "#ffffff"}}
			items = append(items, behind, Text{At: at, Words: b.Label, SizeMM: textMM, Anchor: Middle})
		}
	}
	return items
}

// boreSign is the middle of a bore's outcome.
func boreSign(f frame, b SectionBore) Point {
	top := f.point(b.X, b.TopElev)
	return Point{top.X, top.Y - 1.6}
}

// boreName is where the name of a bore stands, by its middle; none where no room was.
type boreName struct {
	at    Point
	there bool
}

// boreNames finds room for the names: above the outcome, raised where another name or
// outcome is in the way, but not into the title; then likewise to the right and to the left
// of the bore. A name without room anywhere is left out rather than put over others or over
// the edge of the drawing.
func boreNames(f frame, bores []SectionBore) []boreName {
	const step, highest = 0.5, 2*titleMM + 1 // the title's foot
	var taken []Rect
	for _, b := range bores {
		at := boreSign(f, b)
		taken = append(taken, Rect{X: at.X - 1.3, Y: at.Y - 1.3, WidthMM: 2.6, HeightMM: 2.6})
	}
	out := make([]boreName, len(bores))
	for i, b := range bores {
		width, at := textWidth(b.Label, textMM), boreSign(f, b)
		free := func(shift float64) bool {
			r := Rect{X: at.X + shift - width/2, Y: at.Y - 2 - textMM, WidthMM: width, HeightMM: textMM}
			if width > 0 && (r.X < f.x.fromMM || r.X+width > f.x.toMM+nameOverMM) {
				return false
			}
			for ; r.Y >= highest; r.Y -= step {
				if !slices.ContainsFunc(taken, r.meets) {
					taken = append(taken, r)
					out[i] = boreName{Point{at.X + shift, r.Y + textMM}, true}
					return true
				}
			}
			return false
		}
		for _, shift := range []float64{0, width/2 + 0.5, -width/2 - 0.5} {
			if free(shift) {
				break
			}
		}
	}
	return out
}

// nameOverMM is how far a name may stand over the right end of the line, inside the sheet.
const nameOverMM = 3.0

// unnamed counts the names without room.
func unnamed(names []boreName) (n int) {
	for _, name := range names {
		if !name.there {
			n++
		}
	}
	return n
}

func (r Rect) meets(o Rect) bool {
	return r.X < o.X+o.WidthMM && o.X < r.X+r.WidthMM && r.Y < o.Y+o.HeightMM && o.Y < r.Y+r.HeightMM
}

// waterLines draws the levels with their signs, all white rims first: levels lie close.
func waterLines(f frame, lines []SectionLine) []Item {
	var rims, items []Item
	for _, w := range lines {
		stroke, _ := waterStroke(w.Key) // checked by waterEntries
		points := f.points(w.Points)
		rims = append(rims, Path{Points: points, Stroke: line("#ffffff", 1.1)})
		items = append(items, Path{Points: points, Stroke: stroke}, waterSign(points[len(points)/2]))
	}
	return append(rims, items...)
}

// waterRanges draws the ranges as bars beside the columns, those of each further level a
// little further to the right.
func waterRanges(f frame, w SectionLine, besideMM float64) []Item {
	stroke, _ := waterStroke(w.Key) // checked by waterEntries
	stroke.Dash = nil
	var items []Item
	for _, r := range w.Ranges {
		x := f.x.at(r.X) + besideMM + 1.3*float64(slices.Index(WaterLines(), w.Key))
		lo, hi := f.y.at(r.LoElev), f.y.at(r.HiElev)
		items = append(items, segment(x, lo, x, hi, line("#ffffff", 1)), segment(x, lo, x, hi, stroke),
			segment(x-0.5, lo, x+0.5, lo, stroke), segment(x-0.5, hi, x+0.5, hi, stroke))
	}
	return items
}
