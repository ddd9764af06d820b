package draw

import (
	"errors"
	"fmt"
	"slices"
)

// SectionLayer is one body of ground in a section.
type SectionLayer struct {
	Class   string  // key, one of Looks
	Outline []Point // closed, at least 3 points
}

// SectionLine is a water level along the section. A level that is not known all along is
// several lines of one key.
type SectionLine struct {
	Key    string // one of WaterLines
	Points []Point
	Ranges []SectionRange // where they are known
}

// SectionData is the ground along a line. In every Point X is the distance along the
// line and Y the elevation, both in m.
type SectionData struct {
	Layers  []SectionLayer
	Ground  []Point // from left to right; at least 2 points
	Water   []SectionLine
	Columns []SectionColumn
	Bores   []SectionBore
}

// SectionOptions are the sheet and the words of a section.
type SectionOptions struct {
	WidthMM, HeightMM        float64
	ID, Title, Desc          string
	DistanceLabel, ElevLabel string
	Words                    map[string]string    // "class.clay", "outcome.dry", "water.dry-low" and so on, and "ground"
	Number                   func(float64) string // writes ticks; nil: decimal point
	Unnamed                  func(n int) string   // says how many bores bear no name for want of room; nil: nothing is said
	Note                     string               // a line below the legend; empty: none
}

// Section draws the ground along a line: layers, ground, columns of layers where they are
// known, water levels with their ranges, and bores with their logs.
//
//   - Units: distance and elevation in m, sizes in mm; heights are stretched to fill
//     the sheet.
//   - Errors: too few points, unknown keys, coordinates that are not finite, layers that
//     are none, no room.
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
	_, legendH := legend(entries, Point{}, o.WidthMM-2*sectionMarginMM)
	f := o.frame(area, legendH)
	if f.y.fromMM-f.y.toMM < 10 || f.x.toMM-f.x.fromMM < 10 {
		return Scene{}, errors.New("draw: the sheet is too small for the section and its legend")
	}
	names := boreNames(f, d.Bores)
	if lines := float64(len(o.notes(names))); lines > 0 {
		f = o.frame(area, legendH+lines*sectionNoteMM)
		names = boreNames(f, d.Bores)
	}
	var note []Item
	for i, words := range slices.Backward(o.notes(names)) {
		foot := o.HeightMM - sectionMarginMM - float64(len(o.notes(names))-1-i)*sectionNoteMM
		note = append(note, Text{At: Point{sectionMarginMM, foot}, Words: words, SizeMM: textMM})
	}
	signs, _ := legend(entries, Point{sectionMarginMM, f.y.fromMM + sectionAxisMM}, o.WidthMM-2*sectionMarginMM)
	items := []Item{Text{At: Point{sectionMarginMM, sectionMarginMM + titleMM}, Words: o.Title, SizeMM: titleMM, Bold: true}}
	items = append(items, Group{Clip: f.clip(), Items: sectionGround(f, d)}, outlined(f.box()))
	items = append(items, sectionBores(f, d.Bores, names)...)
	items = append(items, f.left(o.ElevLabel)...)
	items = append(items, f.below(o.DistanceLabel)...)
	return Scene{o.WidthMM, o.HeightMM, o.ID, o.Title, o.Desc, slices.Concat(items, signs, note)}, nil
}

// notes are the lines below the legend.
func (o SectionOptions) notes(names []boreName) (out []string) {
	if o.Note != "" {
		out = append(out, o.Note)
	}
	if n := unnamed(names); n > 0 && o.Unnamed != nil {
		out = append(out, o.Unnamed(n))
	}
	return out
}

const (
	sectionMarginMM = 3.0
	sectionAxisMM   = 11.0
	sectionNoteMM   = 4.0
)

// frame is where the section is drawn on its sheet, above what stands below it.
func (o SectionOptions) frame(area extent, belowMM float64) frame {
	f := frame{
		x:      axis{area.minX, area.maxX, 15, o.WidthMM - 5},
		y:      axis{area.minY, area.maxY, o.HeightMM - sectionMarginMM - belowMM - sectionAxisMM, 11},
		number: o.Number,
	}
	if f.number == nil {
		f.number = plainNumber
	}
	return f
}

// sectionGround draws what lies inside the frame, from the back to the front.
func sectionGround(f frame, d SectionData) []Item {
	var items []Item
	for _, l := range d.Layers {
		look, _ := LookOf(l.Class) // checked by sectionEntries
		items = append(items, Path{Points: f.points(l.Outline), Closed: true, Fill: look.Fill(), Stroke: line(ink, 0.15)})
	}
	items = append(items, sectionColumns(f, d.Columns)...)
	items = append(items, waterLines(f, d.Water)...)
	for _, w := range d.Water {
		items = append(items, waterRanges(f, w, expectedWidth(f, d.Columns)/2+1)...)
	}
	return append(items, Path{Points: f.points(d.Ground), Stroke: line(groundBrown, 0.6)})
}

const groundBrown = "#4a3520"

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
	for _, c := range d.Columns {
		if err := checkLayers(c.Layers); err != nil {
			return nil, err
		}
		useClasses(classes, c.Layers)
	}
	for _, b := range d.Bores {
		if _, err := marker(b.Outcome, Point{}); err != nil {
			return nil, err
		}
		if err := checkLayers(b.Layers); err != nil {
			return nil, err
		}
		outcomes[b.Outcome] = true
		useClasses(classes, b.Layers)
	}
	water, err := waterEntries(d.Water, words)
	if err != nil {
		return nil, err
	}
	entries := append(classEntries(classes, words), lineEntry(named("ground", words), line(groundBrown, 0.6)))
	return append(append(entries, water...), outcomeEntries(outcomes, words)...), nil
}

// waterEntries lists each water level once, and refuses unknown keys and single points.
func waterEntries(lines []SectionLine, words map[string]string) ([]entry, error) {
	var entries []entry
	listed := map[string]bool{}
	for _, w := range lines {
		stroke, err := waterStroke(w.Key)
		if err != nil {
			return nil, err
		}
		if len(w.Points) < 2 {
			return nil, fmt.Errorf("draw: water line %s needs at least 2 points", w.Key)
		}
		if !listed[w.Key] {
			entries = append(entries, lineEntry(named("water."+w.Key, words), stroke))
		}
		listed[w.Key] = true
	}
	return entries, nil
}
