package draw

import (
	"errors"
	"fmt"
)

// SectionLayer is one body of ground in a section.
type SectionLayer struct {
	Class   string  // key, one of Looks
	Outline []Point // closed, at least 3 points
}

// SectionLine is a water level along the section.
type SectionLine struct {
	Key    string // one of WaterLines
	Points []Point
}

// SectionBore is a bore set onto the section from the side.
type SectionBore struct {
	X                 float64 // distance along the section, m
	TopElev, BaseElev float64 // m
	Outcome           string  // key, one of Outcomes
	Label             string
}

// SectionData is the ground along a line. In every Point X is the distance along the
// line and Y the elevation, both in m.
type SectionData struct {
	Layers []SectionLayer
	Ground []Point // from left to right; at least 2 points
	Water  []SectionLine
	Bores  []SectionBore
}

// SectionOptions are the sheet and the words of a section.
type SectionOptions struct {
	WidthMM, HeightMM        float64
	ID, Title, Desc          string
	DistanceLabel, ElevLabel string
	Words                    map[string]string    // "class.clay", "outcome.dry", "water.dry-low" and so on, and "ground"
	Number                   func(float64) string // writes ticks; nil: decimal point
}

// Section draws the ground along a line: layers, ground, water levels and bores.
//
//   - Units: distance and elevation in m, sizes in mm; heights are stretched to fill
//     the sheet.
//   - Errors: too few points, unknown keys, coordinates that are not finite, no room.
func Section(d SectionData, o SectionOptions) (Scene, error) {
	if len(d.Ground) < 2 {
		return Scene{}, errors.New("draw: a section needs a ground line of at least 2 points")
	}
	entries, err := sectionEntries(d, o.Words)
	if err != nil {
		return Scene{}, err
	}
	area, err := sectionExtent(d)
	if err != nil {
		return Scene{}, err
	}
	const margin = 3.0
	_, legendH := legend(entries, Point{}, o.WidthMM-2*margin)
	bottom := o.HeightMM - margin - legendH
	f := frame{
		x:      axis{area.minX, area.maxX, 15, o.WidthMM - 5},
		y:      axis{area.minY, area.maxY, bottom - 11, 11},
		number: o.Number,
	}
	if f.number == nil {
		f.number = plainNumber
	}
	if f.y.fromMM-f.y.toMM < 10 || f.x.toMM-f.x.fromMM < 10 {
		return Scene{}, errors.New("draw: the sheet is too small for the section and its legend")
	}
	signs, _ := legend(entries, Point{margin, bottom}, o.WidthMM-2*margin)
	items := []Item{Text{At: Point{margin, margin + titleMM}, Words: o.Title, SizeMM: titleMM, Bold: true}}
	items = append(items, Group{Clip: f.clip(), Items: sectionGround(f, d)}, outlined(f.box()))
	items = append(items, sectionBores(f, d.Bores)...)
	items = append(items, f.left(o.ElevLabel)...)
	items = append(items, f.below(o.DistanceLabel)...)
	return Scene{o.WidthMM, o.HeightMM, o.ID, o.Title, o.Desc, append(items, signs...)}, nil
}

// sectionGround draws what lies inside the frame, from the back to the front.
func sectionGround(f frame, d SectionData) []Item {
	var items []Item
	for _, l := range d.Layers {
		look, _ := LookOf(l.Class) // checked by sectionEntries
		items = append(items, Path{Points: f.points(l.Outline), Closed: true, Fill: look.Fill(), Stroke: line(ink, 0.15)})
	}
	for _, w := range d.Water {
		stroke, _ := waterStroke(w.Key) // checked by sectionEntries
		points := f.points(w.Points)
		items = append(items, Path{Points: points, Stroke: line("#ffffff", 1.1)}, Path{Points: points, Stroke: stroke},
			waterSign(points[len(points)/2]))
	}
	return append(items, Path{Points: f.points(d.Ground), Stroke: line(groundBrown, 0.6)})
}

const groundBrown = "#4a3520"

// sectionBores draws each bore as a stick with its outcome on top.
func sectionBores(f frame, bores []SectionBore) []Item {
	var items []Item
	for _, b := range bores {
		top, base := f.point(b.X, b.TopElev), f.point(b.X, b.BaseElev)
		items = append(items,
			segment(top.X, top.Y, base.X, base.Y, line("#ffffff", 1.3)),
			segment(top.X, top.Y, base.X, base.Y, line(ink, 0.6)),
			segment(base.X-0.9, base.Y, base.X+0.9, base.Y, line(ink, 0.4)))
		sign, _ := marker(b.Outcome, Point{top.X, top.Y - 1.6}) // checked by sectionEntries
		items = append(items, sign...)
		items = append(items, Text{At: Point{top.X, top.Y - 3.6}, Words: b.Label, SizeMM: textMM, Anchor: Middle, Halo: true})
	}
	return items
}

// sectionEntries lists what the legend must explain, and refuses unknown keys.
func sectionEntries(d SectionData, words map[string]string) ([]entry, error) {
	classes, outcomes := map[string]bool{}, map[string]bool{}
	for i, l := range d.Layers {
		if len(l.Outline) < 3 {
			return nil, fmt.Errorf("draw: layer %d of the section has %d points, needs 3", i+1, len(l.Outline))
		}
		if _, err := LookOf(l.Class); err != nil {
			return nil, err
		}
		classes[l.Class] = true
	}
	for _, b := range d.Bores {
		if _, err := marker(b.Outcome, Point{}); err != nil {
			return nil, err
		}
		outcomes[b.Outcome] = true
	}
	entries := append(classEntries(classes, words), lineEntry(named("ground", words), line(groundBrown, 0.6)))
	for _, w := range d.Water {
		stroke, err := waterStroke(w.Key)
		if err != nil {
			return nil, err
		}
		if len(w.Points) < 2 {
			return nil, fmt.Errorf("draw: water line %s needs at least 2 points", w.Key)
		}
		entries = append(entries, lineEntry(named("water."+w.Key, words), stroke))
	}
	return append(entries, outcomeEntries(outcomes, words)...), nil
}
