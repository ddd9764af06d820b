package draw

import "fmt"

// Look is how a soil class is drawn: a colour, and marks repeated over it.
type Look struct {
	Class string
	Color string
	Tile  Tile
}

// Tile is one repeat of a pattern.
type Tile struct {
	WidthMM, HeightMM float64
	Marks             []Item
}

// Fill is the area fill of the class.
func (l Look) Fill() Fill { return Fill{Color: l.Color, Pattern: l.Class} }

const (
	darkMarks  = "#2a2623"
	lightMarks = "#fffdf7"
)

// Looks returns the look of every class, in the order in which legends list them.
// Neighbours in this order differ in lightness, so that they differ on a grey print.
func Looks() []Look {
	return []Look{
		{"topsoil", "#5d4632", tufts(lightMarks)},
		{"clay", "#8fa39b", dashes(darkMarks)},
		{"silt", "#c9c3a5", dashDots(darkMarks)},
		{"sand-fine", "#fbf1c4", dots(darkMarks, 1.1, 0.14)},
		{"sand", "#f3e09a", twoDots(darkMarks)},
		{"sand-medium", "#e8c978", dots(darkMarks, 1.7, 0.24)},
		{"sand-coarse", "#d2ab50", dots(darkMarks, 2.4, 0.38)},
		{"gravel", "#b08a55", rings(darkMarks)},
		{"hardpan", "#9c4f35", bricks(lightMarks)},
		{"weathered-rock", "#cdaebd", brokenVs(darkMarks)},
		{"fractured-rock", "#a08fae", cracks(darkMarks)},
		{"rock", "#6e6680", pluses(lightMarks)},
		{"unknown", "#f4f4f2", hatch("#6d6d6d")},
	}
}

// LookOf returns the look of one class, or an error for a key that is not known.
func LookOf(class string) (Look, error) {
	for _, l := range Looks() {
		if l.Class == class {
			return l, nil
		}
	}
	return Look{}, fmt.Errorf("draw: no soil class %q; the keys are those of Looks", class)
}
