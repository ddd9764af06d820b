package draw

import (
	"math"
	"slices"
)

// boreRows shares bores out so that those of a row stand clear of one another, and a bore
// over which another is drawn stands in a row before it.
func boreRows(f frame, bores []SectionBore) (rows [][]SectionBore) {
	const clearMM = loggedMM + 0.2 // a log with its edge
	place := make([]int, len(bores))
	for i, b := range bores {
		for j, before := range bores[:i] {
			if math.Abs(f.x.at(b.X)-f.x.at(before.X)) < clearMM {
				place[i] = max(place[i], place[j]+1)
			}
		}
		if place[i] == len(rows) {
			rows = append(rows, nil)
		}
		rows[place[i]] = append(rows[place[i]], b)
	}
	return rows
}

// boreShafts draws bores that stand clear of one another as sticks with their logs over
// them, and their feet. All logs follow each other, so that they are written together.
func boreShafts(f frame, bores []SectionBore) (items []Item) {
	var logs, feet []Item
	for _, b := range bores {
		top, base := f.point(b.X, b.TopElev), f.point(b.X, b.BaseElev)
		items = append(items,
			segment(top.X, top.Y, base.X, base.Y, line("#ffffff", 1.3)),
			segment(top.X, top.Y, base.X, base.Y, line(ink, 0.6)))
		logs = append(logs, columnLayers(f.strip(b.X, b.TopElev, loggedMM), b.Layers)...)
		feet = append(feet, boreFoot(b, base))
	}
	return slices.Concat(items, logs, feet)
}

// boreFoot is a line where a bore ends, an arrow where it goes on.
func boreFoot(b SectionBore, base Point) Item {
	half := 0.9
	if len(b.Layers) > 0 {
		half = loggedMM / 2
	}
	if b.Deeper {
		arrow := []Point{{base.X - half, base.Y}, {base.X + half, base.Y}, {base.X, base.Y + 1.6}}
		return Path{Points: arrow, Closed: true, Fill: Fill{Color: ink}}
	}
	return segment(base.X-half, base.Y, base.X+half, base.Y, line(ink, 0.4))
}
