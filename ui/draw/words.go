package draw

import "strings"

// wrapped breaks words into lines no wider than a width; a single word may be wider.
func wrapped(words string, sizeMM, widthMM float64) []string {
	var out []string
	for _, word := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' }) {
		if last := len(out) - 1; last >= 0 && textWidth(out[last]+" "+word, sizeMM) <= widthMM {
			out[last] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// heading sets a title in bold from the point at downwards, and returns the height used.
func heading(title string, at Point, widthMM float64) (items []Item, heightMM float64) {
	for _, l := range wrapped(title, titleMM, widthMM) {
		heightMM += 1.3 * titleMM
		items = append(items, Text{At: Point{at.X, at.Y + heightMM - 0.3*titleMM}, Words: l, SizeMM: titleMM, Bold: true})
	}
	return items, heightMM
}

// centred sets words in the middle of a box.
func centred(words string, box Rect) []Item {
	const leading = 1.35 * titleMM
	all := wrapped(words, titleMM, 0.8*box.WidthMM)
	at := box.center()
	at.Y += 0.35*titleMM - leading*float64(len(all)-1)/2
	var items []Item
	for _, l := range all {
		items = append(items, Text{At: at, Words: l, SizeMM: titleMM, Anchor: Middle})
		at.Y += leading
	}
	return items
}

// widest is the room that the longest of some ticks takes.
func widest(ticks []float64, number func(float64) string) float64 {
	width := 0.0
	for _, t := range ticks {
		width = max(width, textWidth(number(t), textMM))
	}
	return width
}
