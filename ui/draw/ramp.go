package draw

import "slices"

// Ramp is how the values of a surface are coloured: in classes, from the lowest value to
// the highest. Each class is darker or lighter than the one before it, so that it is told
// without hues too: by readers who see few colours, and on a grey print.
type Ramp struct {
	Kind    RampKind
	Limits  []float64 // between the classes, rising
	Colours []string  // one more than limits, as #rrggbb
}

// RampKind is what the numbers of a ramp are.
type RampKind int

// The kinds of numbers.
const (
	RampShare RampKind = iota // parts of 1
	RampDepth                 // metres
	RampCount
)

// Ramps lists the surfaces that have a ramp, each with its own; a range is that of the
// values of another surface.
func Ramps() []string {
	return []string{"chance", "chance-range", "design-low", "design-low-range", "refusal", "refusal-range", "evidence"}
}

// RampOf returns the ramp of a surface; false where there is no such surface. Good ground
// is dark in chance, evidence and refusal, deep water in design-low, doubt in the ranges.
func RampOf(surface string) (Ramp, bool) {
	depths := []float64{2, 5, 10, 15, 25}
	switch surface {
	case "chance":
		return Ramp{RampShare, []float64{0.2, 0.4, 0.6, 0.8}, []string{"#f5e9cf", "#cfdcb8", "#8fc0a9", "#44929b", "#134f73"}}, true
	case "chance-range":
		return Ramp{RampShare, []float64{0.2, 0.4, 0.6, 0.8}, doubt[1:]}, true
	case "design-low":
		return Ramp{RampDepth, depths, []string{"#e3eef6", "#bcd6ea", "#8ab4d6", "#5a8bb9", "#34608f", "#15345c"}}, true
	case "refusal":
		return Ramp{RampDepth, []float64{5, 10, 15, 20, 30}, []string{"#f6ecdd", "#e6cfa9", "#cfa872", "#ab7d47", "#7d5529", "#4a2f14"}}, true
	case "design-low-range", "refusal-range":
		return Ramp{RampDepth, depths, doubt}, true
	case "evidence":
		return Ramp{RampCount, []float64{1, 3, 6, 11}, []string{"#f2f0ee", "#d3d3c6", "#a5ae92", "#6f8360", "#3b5634"}}, true
	}
	return Ramp{}, false
}

// doubt colours how far a value is from being known.
var doubt = []string{"#f7f0f5", "#e6d2e2", "#cbaacb", "#a67fae", "#7c558b", "#502f63"}

// Few is the colour of the hatching over ground with too few bores to speak of.
const Few = "#5b5f66"

// Class returns the class of a value, the lowest being 0; a limit belongs to the class
// above it.
func (r Ramp) Class(v float64) int {
	at, found := slices.BinarySearch(r.Limits, v)
	if found {
		at++
	}
	return at
}
