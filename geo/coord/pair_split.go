package coord

import "strings"

// splits returns the ways to part a text into two angles: at a semicolon, slash,
// bar or tab; else at a comma that cannot be a decimal mark; else before every
// piece of it. A single comma between digits, with nothing else to part the
// text, may be either: ok is false.
func splits(text string) (halves [][2]string, ok bool) {
	text = strings.TrimSpace(text)
	if cuts := cutsAt(text, ";/|\t"); len(cuts) > 0 {
		return cuts, true
	}
	if cuts := commaCuts(text); len(cuts) > 0 {
		return cuts, true
	}
	tokens, _ := scanAngle(text)
	for _, t := range tokens {
		if t.start > 0 {
			halves = append(halves, [2]string{text[:t.start], text[t.start:]})
		}
	}
	return halves, len(halves) > 0 || !strings.Contains(text, ",")
}

func cutsAt(text, separators string) (cuts [][2]string) {
	for i := range len(text) {
		if strings.IndexByte(separators, text[i]) >= 0 {
			cuts = append(cuts, [2]string{text[:i], text[i+1:]})
		}
	}
	return cuts
}

// commaCuts parts at the commas that stand beside something other than a digit,
// or at the only comma where the decimals are written with dots.
func commaCuts(text string) (cuts [][2]string) {
	dots := strings.Contains(text, ".") && strings.Count(text, ",") == 1
	for i := 1; i < len(text)-1; i++ {
		if text[i] == ',' && (dots || !isDigit(text[i-1]) || !isDigit(text[i+1])) {
			cuts = append(cuts, [2]string{text[:i], text[i+1:]})
		}
	}
	return cuts
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
