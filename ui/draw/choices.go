package draw

import (
	"errors"
	"strconv"
)

// choice says of a village whether it was chosen.
type choice int

const (
	noNeed  choice = iota // nothing was asked for it
	leftOut               // in need and not chosen
	chosen
)

// ChoiceMap is what lies in the mapped area, in metres of one projected plane, X east and
// Y north.
type ChoiceMap struct {
	Chosen  []MapVillage // in their order: the first is number 1
	LeftOut []MapVillage
	NoNeed  []MapVillage
	Outline [][]Point    // closed rings
	Names   []MapVillage // of what the rings hold
}

// Choices draws a map of what was chosen and what was not: a filled disc with its number, an
// empty square, a dot. The words are "choice.chosen", "choice.left-out", "choice.no-need" and
// "boundary".
//
//   - Units: coordinates in m, sizes in mm; one scale in both directions.
//   - Errors: nothing to draw, coordinates that are not finite, no room.
//   - Checked by: TestChoicesDifferInShape.
func Choices(d ChoiceMap, o MapOptions) (Scene, error) {
	if len(d.Chosen)+len(d.LeftOut)+len(d.NoNeed) == 0 {
		return Scene{}, errors.New("draw: a map without villages")
	}
	area := noExtent()
	for _, list := range [][]MapVillage{d.Chosen, d.LeftOut, d.NoNeed} {
		for _, v := range list {
			area = area.with(v.At)
		}
	}
	for _, ring := range d.Outline {
		area = area.with(ring...)
	}
	if err := area.check(); err != nil {
		return Scene{}, err
	}
	return northUp(area.grown(0.12, 0.12, 50), choiceEntries(d, o.Words), o, func(f frame) []Item { return choiceGround(f, d) })
}

// choiceGround draws what matters most last; of the chosen, the first lies on top.
func choiceGround(f frame, d ChoiceMap) (items []Item) {
	for _, ring := range d.Outline {
		items = append(items, Path{Points: f.points(ring), Closed: true, Stroke: boundaryLine})
	}
	for _, n := range d.Names { // under the signs: no name may hide a village
		items = append(items, Text{At: f.point(n.At.X, n.At.Y), Words: n.Name, SizeMM: textMM, Anchor: Middle, Halo: true})
	}
	sign := func(c choice, v MapVillage, number string) {
		items = append(items, Group{Title: v.Name, Items: choiceSign(c, f.point(v.At.X, v.At.Y), number)})
	}
	for _, v := range d.NoNeed {
		sign(noNeed, v, "")
	}
	for _, v := range d.LeftOut {
		sign(leftOut, v, "")
	}
	for i := len(d.Chosen) - 1; i >= 0; i-- {
		sign(chosen, d.Chosen[i], strconv.Itoa(i+1))
	}
	return items
}

// choiceSign has a shape for each choice, so that the colour is never needed.
func choiceSign(c choice, at Point, number string) []Item {
	const r, half, size = 2.0, 1.0, 2.3
	switch c {
	case chosen:
		disc := Circle{Center: at, RadiusMM: r, Fill: Fill{Color: "#1769aa"}, Stroke: line("#ffffff", 0.25)}
		return []Item{disc, Text{At: Point{at.X, at.Y + 0.35*size}, Words: number, SizeMM: size, Anchor: Middle, Bold: true, Color: "#ffffff"}}
	case leftOut:
		return []Item{Rect{at.X - half, at.Y - half, 2 * half, 2 * half, Fill{Color: "#ffffff"}, line(ink, 0.3)}}
	default:
		return []Item{dot("#6b6b6b", at.X, at.Y, 0.5)}
	}
}

func choiceEntries(d ChoiceMap, words map[string]string) (out []entry) {
	for _, e := range []struct {
		choice choice
		key    string
		number string
		there  bool
	}{
		{chosen, "choice.chosen", "1", len(d.Chosen) > 0},
		{leftOut, "choice.left-out", "", len(d.LeftOut) > 0},
		{noNeed, "choice.no-need", "", len(d.NoNeed) > 0},
	} {
		if e.there {
			out = append(out, entry{named(e.key, words), func(at Rect) []Item { return choiceSign(e.choice, at.center(), e.number) }})
		}
	}
	if len(d.Outline) > 0 {
		out = append(out, lineEntry(named("boundary", words), boundaryLine))
	}
	return out
}
