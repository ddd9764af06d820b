package draw

import (
	"errors"
	"fmt"
)

// Odds is how likely one class is within a layer.
type Odds struct {
	Class string  // key, one of Looks
	Share float64 // in [0,1]
}

// ColumnLayer is a depth interval: with one class of share 1 in a log, or with the
// odds of several classes where the ground is predicted. Shares below 1 in all leave
// the rest blank.
type ColumnLayer struct {
	TopM, BaseM float64
	Odds        []Odds
	Note        string // words beside the layer
}

// ColumnLevel is a water level: a line at its depth and, where Lo and Hi differ, a bar
// over its range. What lies above the ground is drawn at the ground.
type ColumnLevel struct {
	Key              string // one of WaterLines
	DepthM, LoM, HiM float64
}

// ColumnOptions are the sheet and the words of a column.
type ColumnOptions struct {
	WidthMM, HeightMM float64
	ID, Title, Desc   string
	DepthLabel        string            // at the depth axis
	OddsLabel         string            // under the column; empty where it is a log
	Words             map[string]string // names of "class.clay", "water.dry-low" and so on
	MaxDepthM         float64           // 0: the deepest layer
	Levels            []ColumnLevel
	Number            func(float64) string // writes ticks; nil: decimal point
}

// Column draws layers by depth as one vertical column, with the odds of a layer as
// shares of its width.
//
//   - Units: depths in m below ground, sizes in mm.
//   - Errors: a layer whose base is not below its top, shares that are negative or
//     come to more than 1, unknown keys, no room.
func Column(layers []ColumnLayer, o ColumnOptions) (Scene, error) {
	if err := checkColumn(layers, o); err != nil {
		return Scene{}, err
	}
	entries, err := columnEntries(layers, o)
	if err != nil {
		return Scene{}, err
	}
	const margin = 3.0
	_, legendH := legend(entries, Point{}, o.WidthMM-2*margin)
	bottom := o.HeightMM - margin - legendH
	f := columnFrame(layers, o, bottom)
	if f.box().HeightMM < 10 || f.box().WidthMM < 10 {
		return Scene{}, errors.New("draw: the sheet is too small for the column and its legend")
	}
	signs, _ := legend(entries, Point{margin, bottom}, o.WidthMM-2*margin)
	items := []Item{Text{At: Point{margin, margin + titleMM}, Words: o.Title, SizeMM: titleMM, Bold: true}}
	items = append(items, Group{Clip: f.clip(), Items: columnLayers(f, layers)}, outlined(f.box()))
	items = append(items, f.left(o.DepthLabel)...)
	items = append(items, columnNotes(f, layers, columnLead(o))...)
	items = append(items, columnLevels(f, o.Levels)...)
	if o.OddsLabel != "" {
		b := f.box()
		items = append(items, Text{At: Point{b.X + b.WidthMM/2, b.Y + b.HeightMM + 1 + textMM}, Words: o.OddsLabel, SizeMM: textMM, Anchor: Middle})
	}
	return Scene{o.WidthMM, o.HeightMM, o.ID, o.Title, o.Desc, append(items, signs...)}, nil
}

func outlined(r Rect) Rect {
	r.Stroke = line(ink, 0.25)
	return r
}

// columnFrame leaves a third of the width for notes where there are any.
func columnFrame(layers []ColumnLayer, o ColumnOptions, bottom float64) frame {
	depth := columnDepth(layers, o)
	right := o.WidthMM - 9
	for _, l := range layers {
		if l.Note != "" {
			right = 0.55 * o.WidthMM
		}
	}
	if o.OddsLabel != "" {
		bottom -= textMM + 1
	}
	f := frame{x: axis{0, 1, 15, right}, y: axis{0, depth, 9, bottom - 3}, number: o.Number}
	if f.number == nil {
		f.number = plainNumber
	}
	return f
}

// columnLead is the length of the lines to the notes: they step around the range bars.
func columnLead(o ColumnOptions) float64 {
	if len(o.Levels) == 0 {
		return 3
	}
	return 3 + 2*float64(len(o.Levels))
}

func checkColumn(layers []ColumnLayer, o ColumnOptions) error {
	if len(layers) == 0 {
		return errors.New("draw: a column needs at least one layer")
	}
	if err := checkLayers(layers); err != nil {
		return err
	}
	return checkLevels(o)
}

func checkLayers(layers []ColumnLayer) error {
	for i, l := range layers {
		if !finite(l.TopM, l.BaseM) || l.BaseM <= l.TopM || l.TopM < 0 {
			return fmt.Errorf("draw: layer %d runs from %v to %v m; its base must lie below its top", i+1, l.TopM, l.BaseM)
		}
		sum := 0.0
		for _, odds := range l.Odds {
			if _, err := LookOf(odds.Class); err != nil {
				return err
			}
			if !(odds.Share >= 0) {
				return fmt.Errorf("draw: layer %d: share %v of %s", i+1, odds.Share, odds.Class)
			}
			sum += odds.Share
		}
		if !(sum <= 1+1e-6) { // rounding over a few classes
			return fmt.Errorf("draw: layer %d: shares come to %v, more than the whole", i+1, sum)
		}
	}
	return nil
}

func checkLevels(o ColumnOptions) error {
	if !finite(o.MaxDepthM) || o.MaxDepthM < 0 {
		return fmt.Errorf("draw: greatest depth %v m", o.MaxDepthM)
	}
	for _, l := range o.Levels {
		if !finite(l.DepthM, l.LoM, l.HiM) {
			return fmt.Errorf("draw: water line %s is not at a finite depth", l.Key)
		}
		if o.MaxDepthM > 0 && l.DepthM > o.MaxDepthM {
			return fmt.Errorf("draw: water line %s at %v m lies below the column's end at %v m", l.Key, l.DepthM, o.MaxDepthM)
		}
	}
	return nil
}

// columnDepth is the depth at the foot of the column.
func columnDepth(layers []ColumnLayer, o ColumnOptions) float64 {
	if o.MaxDepthM > 0 {
		return o.MaxDepthM
	}
	depth := 0.0
	for _, l := range layers {
		depth = max(depth, l.BaseM)
	}
	for _, l := range o.Levels {
		depth = max(depth, l.DepthM, l.HiM)
	}
	return depth
}
