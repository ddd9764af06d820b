package draw

import "fmt"

// waterBlue is the colour of all water lines; the dash tells them apart.
const waterBlue = "#0b5394"

// WaterLines returns the keys of the water levels that have a line of their own.
func WaterLines() []string { return []string{"wet-high", "dry-low", "low-in-ten"} }

// waterStroke is the line of a water level: the deeper the rarer, the shorter its dashes.
func waterStroke(key string) (Stroke, error) {
	switch key {
	case "wet-high":
		return line(waterBlue, 0.45), nil
	case "dry-low":
		return line(waterBlue, 0.45, 3, 1), nil
	case "low-in-ten":
		return line(waterBlue, 0.45, 0.9, 0.7), nil
	}
	return Stroke{}, fmt.Errorf("draw: no water line %q; the keys are those of WaterLines", key)
}

// waterSign is the open triangle that engineers set on a water level, tip on the line.
func waterSign(at Point) Item {
	return Path{
		Points: []Point{at, {at.X - 0.9, at.Y - 1.5}, {at.X + 0.9, at.Y - 1.5}},
		Closed: true, Fill: Fill{Color: "#ffffff"}, Stroke: line(waterBlue, 0.25),
	}
}
