package draw

import (
	"errors"
	"fmt"
)

// LogData is what was written of one finished bore, everything on one depth scale, metres
// below ground.
type LogData struct {
	Layers []ColumnLayer
	Pipes  []LogPart // "casing", "screen", "plug"
	Fills  []LogPart // "pack", "clay", "grout", "backfill"
	Marks  []LogMark
	Paces  []LogPace
	Tests  []LogTest
	DepthM float64 // drilled; 0 where it was not written
}

// LogPart is an interval of one kind in or around the pipe.
type LogPart struct {
	Kind        string
	TopM, BaseM float64
}

// LogMark is a reading of the water: "rest", "flowing", "dry-to" or "strike". What stands
// above ground is drawn at the ground.
type LogMark struct {
	Kind   string
	DepthM float64
	Note   string
}

// LogPace is how long one metre took, in minutes.
type LogPace struct{ TopM, BaseM, MinutesPerM float64 }

// LogTest is a test that lowered the water from one depth to another.
type LogTest struct {
	RestM, LowestM float64
	Note           string
}

// LogOptions are the sheet and the words of a log. Words names the lanes ("lane.layers",
// "lane.build", "lane.water", "lane.pace", "lane.tests"), the kinds ("pipe.casing",
// "fill.pack", "mark.rest"), the classes, and as "missing" what stands in an empty lane.
type LogOptions struct {
	WidthMM, HeightMM float64
	ID, Title, Desc   string
	DepthLabel        string
	Notes             bool // beside the layers, where there is room
	Words             map[string]string
	Number            func(float64) string
}

// lane is one strip of a log from the ground to the bottom.
type lane struct {
	key   string
	x     axis // 0 to 1 across it
	y     axis
	draw  func(*lane) []Item
	empty bool
}

// lanesMM are the widths of the lanes, for a wide sheet and for a narrow one.
var lanesMM = map[bool]map[string]float64{
	true:  {"axis": 13, "layers": 15, "build": 25, "water": 30, "pace": 21, "tests": 24},
	false: {"axis": 11, "layers": 11, "build": 16, "water": 24, "pace": 14, "tests": 15},
}

const (
	logMargin  = 2.0
	headMM     = 2.3 // size of the words above the lanes
	headLines  = 3
	logTopMM   = 2*titleMM + headLines*1.25*headMM + 3
	leastLogMM = 40.0
)

// Log draws the layers, the construction, the water, the pace of drilling and the tests of
// a bore beside each other on one depth scale. A lane in which nothing was written says so.
//
//   - Units: depths in m below ground, minutes for each metre, sizes in mm.
//   - Errors: intervals upside down or not finite, kinds and classes that are not known,
//     nothing that has a depth, no room.
func Log(d LogData, o LogOptions) (Scene, error) {
	if err := d.check(); err != nil {
		return Scene{}, err
	}
	deepest := d.deepestM()
	if deepest <= 0 {
		return Scene{}, errors.New("draw: nothing of the bore has a depth")
	}
	if o.Number == nil {
		o.Number = plainNumber
	}
	entries := d.entries(o.Words)
	_, signsMM := legend(entries, Point{}, o.WidthMM-2*logMargin)
	bottom := o.HeightMM - logMargin - signsMM - 2
	if bottom-logTopMM < leastLogMM || o.WidthMM < 80 {
		return Scene{}, errors.New("draw: the sheet is too small for the log and its legend")
	}
	signs, _ := legend(entries, Point{logMargin, bottom + 2}, o.WidthMM-2*logMargin)
	depth := axis{0, deepest, logTopMM, bottom}
	items, _ := heading(o.Title, Point{logMargin, logMargin}, o.WidthMM-2*logMargin)
	for _, l := range d.lanes(o, depth) {
		items = append(items, l.items(o.Words)...)
	}
	f := frame{x: axis{0, 1, lanesMM[o.Notes]["axis"], o.WidthMM - logMargin}, y: depth, number: o.Number}
	items = append(items, f.left(o.DepthLabel)...)
	return Scene{o.WidthMM, o.HeightMM, o.ID, o.Title, o.Desc, append(items, signs...)}, nil
}

// lanes stand side by side; what room is left over goes to the notes of the layers.
func (d LogData) lanes(o LogOptions, depth axis) []*lane {
	widths := lanesMM[o.Notes]
	left := o.WidthMM - logMargin
	for _, mm := range widths {
		left -= mm
	}
	x := widths["axis"]
	var out []*lane
	for _, l := range []*lane{
		{key: "layers", draw: d.drawLayers(o, left), empty: len(d.Layers) == 0},
		{key: "build", draw: d.drawBuild, empty: len(d.Pipes)+len(d.Fills) == 0},
		{key: "water", draw: d.drawWater, empty: len(d.Marks) == 0},
		{key: "pace", draw: d.drawPaces(o.Number), empty: len(d.Paces) == 0},
		{key: "tests", draw: d.drawTests, empty: len(d.Tests) == 0},
	} {
		l.x, l.y = axis{0, 1, x, x + widths[l.key]}, depth
		x = l.x.toMM
		if l.key == "layers" && o.Notes {
			x += left
		}
		out = append(out, l)
	}
	return out
}

func (l *lane) widthMM() float64 { return l.x.toMM - l.x.fromMM }

// items are the lane's frame with its heading and what it shows.
func (l *lane) items(words map[string]string) []Item {
	f := frame{x: l.x, y: l.y}
	box := f.box()
	box.Stroke = line(ink, 0.2)
	out := []Item{box}
	at := Point{box.X + box.WidthMM/2, box.Y - 1.2}
	lines := wrapped(named("lane."+l.key, words), headMM, box.WidthMM-0.5)
	for i := len(lines) - 1; i >= 0; i-- {
		out = append(out, Text{At: at, Words: lines[i], SizeMM: headMM, Anchor: Middle, Bold: true})
		at.Y -= 1.25 * headMM
	}
	if l.empty {
		for i, w := range wrapped(named("missing", words), headMM, box.WidthMM-1) {
			out = append(out, Text{At: Point{box.X + box.WidthMM/2, box.Y + 8 + 1.25*headMM*float64(i)}, Words: w, SizeMM: headMM, Anchor: Middle, Color: "#5b6360"})
		}
		return out
	}
	return append(out, l.draw(l)...)
}

// deepestM is the foot of the scale.
func (d LogData) deepestM() float64 {
	deepest := d.DepthM
	for _, l := range d.Layers {
		deepest = max(deepest, l.BaseM)
	}
	for _, parts := range [][]LogPart{d.Pipes, d.Fills} {
		for _, p := range parts {
			deepest = max(deepest, p.BaseM)
		}
	}
	for _, m := range d.Marks {
		deepest = max(deepest, m.DepthM)
	}
	for _, p := range d.Paces {
		deepest = max(deepest, p.BaseM)
	}
	for _, t := range d.Tests {
		deepest = max(deepest, t.RestM, t.LowestM)
	}
	return deepest
}

func (d LogData) check() error {
	if !finite(d.DepthM) || d.DepthM < 0 {
		return fmt.Errorf("draw: a bore %v m deep", d.DepthM)
	}
	if err := checkLayers(d.Layers); err != nil {
		return err
	}
	for _, parts := range []struct {
		known map[string]Fill
		list  []LogPart
	}{{pipeFills, d.Pipes}, {spaceFills, d.Fills}} {
		for _, p := range parts.list {
			if _, ok := parts.known[p.Kind]; !ok || !finite(p.TopM, p.BaseM) || p.TopM < 0 || p.BaseM <= p.TopM {
				return fmt.Errorf("draw: %q from %v to %v m", p.Kind, p.TopM, p.BaseM)
			}
		}
	}
	for _, m := range d.Marks {
		if _, ok := markSigns[m.Kind]; !ok || !finite(m.DepthM) {
			return fmt.Errorf("draw: mark %q at %v m", m.Kind, m.DepthM)
		}
	}
	for _, p := range d.Paces {
		if !finite(p.TopM, p.BaseM, p.MinutesPerM) || p.BaseM <= p.TopM || p.MinutesPerM <= 0 {
			return fmt.Errorf("draw: %v minutes for each metre from %v to %v m", p.MinutesPerM, p.TopM, p.BaseM)
		}
	}
	for _, t := range d.Tests {
		if !finite(t.RestM, t.LowestM) {
			return fmt.Errorf("draw: a test from %v to %v m", t.RestM, t.LowestM)
		}
	}
	return nil
}
