package draw

// entry is one line of a legend: a sign drawn within a swatch, and its words.
type entry struct {
	words string
	sign  func(at Rect) []Item
}

const (
	swatchW = 7.0
	swatchH = 3.6
	rowH    = 5.2
)

// legend sets entries in rows from the point at, no wider than widthMM, and returns
// the height used.
func legend(entries []entry, at Point, widthMM float64) (items []Item, heightMM float64) {
	if len(entries) == 0 {
		return nil, 0
	}
	x, y := at.X, at.Y
	for _, e := range entries {
		width := swatchW + 1.5 + textWidth(e.words, textMM) + 4
		if x > at.X && x+width > at.X+widthMM {
			x, y = at.X, y+rowH
		}
		items = append(items, e.sign(Rect{X: x, Y: y, WidthMM: swatchW, HeightMM: swatchH})...)
		base := Point{x + swatchW + 1.5, y + swatchH/2 + 0.35*textMM}
		items = append(items, Text{At: base, Words: e.words, SizeMM: textMM})
		x += width
	}
	return items, y + rowH - at.Y
}

func (r Rect) center() Point { return Point{r.X + r.WidthMM/2, r.Y + r.HeightMM/2} }

// classEntries lists the classes that were used, in legend order.
func classEntries(used map[string]bool, words map[string]string) []entry {
	var out []entry
	for _, look := range Looks() {
		if !used[look.Class] {
			continue
		}
		out = append(out, entry{named("class."+look.Class, words), func(at Rect) []Item {
			at.Fill, at.Stroke = look.Fill(), line(ink, 0.2)
			return []Item{at}
		}})
	}
	return out
}

// outcomeEntries lists the outcomes that were used, in legend order.
func outcomeEntries(used map[string]bool, words map[string]string) []entry {
	var out []entry
	for _, outcome := range Outcomes() {
		if !used[outcome] {
			continue
		}
		out = append(out, entry{named("outcome."+outcome, words), func(at Rect) []Item {
			items, _ := marker(outcome, at.center()) // every key of Outcomes has a marker
			return items
		}})
	}
	return out
}

func lineEntry(words string, s Stroke) entry {
	return entry{words, func(at Rect) []Item {
		y := at.center().Y
		return []Item{segment(at.X, y, at.X+at.WidthMM, y, s)}
	}}
}

// named returns the words for a key, or the key itself so that a gap shows.
func named(key string, words map[string]string) string {
	if w := words[key]; w != "" {
		return w
	}
	return key
}
