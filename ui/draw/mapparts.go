package draw

import "fmt"

var (
	riverLine    = line("#5b9bd5", 0.7)
	boundaryLine = line("#6b6b6b", 0.4, 2.4, 0.8, 0.5, 0.8)
)

// mapGround draws what lies inside the frame, from the back to the front.
func mapGround(f frame, d MapData) []Item {
	var items []Item
	for _, ring := range d.Boundary {
		items = append(items, Path{Points: f.points(ring), Closed: true, Stroke: boundaryLine})
	}
	for _, river := range d.Rivers {
		items = append(items, Path{Points: f.points(river), Stroke: riverLine})
	}
	if d.Site != nil { // under the bores: its ring must not hide one
		items = append(items, siteMarker(f.point(d.Site.X, d.Site.Y))...)
	}
	for _, b := range d.Bores {
		at := f.point(b.At.X, b.At.Y)
		sign, _ := marker(b.Outcome, at) // checked by mapEntries
		items = append(items, sign...)
		items = append(items, label(Point{at.X + 2, at.Y + 0.35*textMM}, b.Label, false)...)
	}
	for _, v := range d.Villages {
		at := f.point(v.At.X, v.At.Y)
		items = append(items, villageSign(at))
		items = append(items, label(Point{at.X + 2, at.Y - 1.2}, v.Name, true)...)
	}
	return items
}

func label(at Point, words string, bold bool) []Item {
	if words == "" {
		return nil
	}
	return []Item{Text{At: at, Words: words, SizeMM: textMM, Bold: bold, Halo: true}}
}

// villageSign is a small house, so that it is never taken for a bore.
func villageSign(at Point) Item {
	return Path{
		Points: []Point{{at.X - 1.1, at.Y + 1.1}, {at.X - 1.1, at.Y - 0.2}, {at.X, at.Y - 1.3}, {at.X + 1.1, at.Y - 0.2}, {at.X + 1.1, at.Y + 1.1}},
		Closed: true, Fill: Fill{Color: "#f2f2f2"}, Stroke: line(ink, 0.3),
	}
}

// scaleBar draws a bar of round length, near a quarter of the frame's width.
func scaleBar(f frame, write func(float64) string) []Item {
	if write == nil {
		write = plainDistance
	}
	b := f.box()
	metresPerMM := (f.x.to - f.x.from) / b.WidthMM
	length := roundStep(metresPerMM * b.WidthMM / 4)
	w := length / metresPerMM
	x, y := b.X+3, b.Y+b.HeightMM-3
	return []Item{
		Rect{x, y - 0.8, w / 2, 0.8, Fill{Color: ink}, line(ink, 0.2)},
		Rect{x + w/2, y - 0.8, w / 2, 0.8, Fill{Color: "#ffffff"}, line(ink, 0.2)},
		Text{At: Point{x + w/2, y - 1.6}, Words: write(length), SizeMM: textMM, Anchor: Middle, Halo: true},
	}
}

func plainDistance(m float64) string {
	if m >= 1000 {
		return plainNumber(m/1000) + "\u00a0km"
	}
	return plainNumber(m) + "\u00a0m"
}

func northArrow(tip Point, letter string) []Item {
	return []Item{
		Path{
			Points: []Point{tip, {tip.X + 1.8, tip.Y + 6}, {tip.X, tip.Y + 4.6}, {tip.X - 1.8, tip.Y + 6}},
			Closed: true, Fill: Fill{Color: ink}, Stroke: line("#ffffff", 0.3),
		},
		Text{At: Point{tip.X, tip.Y + 9}, Words: letter, SizeMM: textMM, Anchor: Middle, Bold: true, Halo: true},
	}
}

// mapEntries lists what the legend must explain, and refuses unknown outcomes.
func mapEntries(d MapData, words map[string]string) ([]entry, error) {
	used := map[string]bool{}
	for _, b := range d.Bores {
		if _, err := marker(b.Outcome, Point{}); err != nil {
			return nil, fmt.Errorf("bore %q: %w", b.Label, err)
		}
		used[b.Outcome] = true
	}
	entries := outcomeEntries(used, words)
	if d.Site != nil {
		entries = append(entries, entry{named("site", words), func(at Rect) []Item { return siteMarker(at.center()) }})
	}
	if len(d.Villages) > 0 {
		entries = append(entries, entry{named("village", words), func(at Rect) []Item { return []Item{villageSign(at.center())} }})
	}
	if len(d.Rivers) > 0 {
		entries = append(entries, lineEntry(named("river", words), riverLine))
	}
	if len(d.Boundary) > 0 {
		entries = append(entries, lineEntry(named("boundary", words), boundaryLine))
	}
	return entries, nil
}
