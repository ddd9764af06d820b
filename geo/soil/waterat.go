package soil

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// Depth is a depth as the words give it.
type Depth struct {
	Value float64
	Unit  string // "m" or "ft"; empty when the words do not say
}

// metre and foot are the units of a [Depth].
const (
	metre = "m"
	foot  = "ft"
)

var lengthWords = map[string]string{
	"m": metre, "mt": metre, "mts": metre, "mtr": metre, "mtrs": metre, "metre": metre, "metres": metre,
	"meter": metre, "meters": metre, "metro": metre, "metros": metre,
	"ft": foot, "feet": foot, "foot": foot, "'": foot, "pied": foot, "pieds": foot, "pe": foot, "pes": foot,
}

// A depth follows a word of place, a sign, or water itself; the text is folded.
var depthForm = regexp.MustCompile(
	`(?:(\b(?:at|from|below|under|after|a|des|depuis|vers|sous|apres|aos|ao|desde|de|abaixo de|apos)\s+|@\s*)|[-:(]\s*)?` +
		`\b(\d{1,4}(?:[.,]\d+)?)\s*(?:(?:to|ate|-|a)\s*\d{1,4}(?:[.,]\d+)?\s*)?([\pL'/%]*)`)

// waterReach is how many words may stand between water and its depth.
const waterReach = 4

// waterAt returns the depths at which the words say that water came in: "wet from 54",
// "eau à 12 m", "água aos 9 m". A figure without a word of place needs a unit and water
// right before it; rates and contents ("water at 500 gph") are no depths.
func (r *Reader) waterAt(text string) []Depth {
	var out []Depth
	text = fold(text)
	from, chained := 0, false
	for _, m := range depthForm.FindAllStringSubmatchIndex(text, -1) {
		before := text[from:m[0]]
		placed := m[2] >= 0
		unit, ok := r.lengthUnit(text[m[6]:m[7]])
		from = m[1]
		chained = chained && r.joins(before) || r.endsInWater(before, placed)
		if chained = chained && ok && (placed || unit != ""); !chained {
			continue
		}
		value, err := strconv.ParseFloat(strings.Replace(text[m[4]:m[5]], ",", ".", 1), 64)
		if err == nil {
			out = append(out, Depth{value, unit})
		}
	}
	return out
}

// lengthUnit reads what follows a figure; any word of the vocabulary may ("wet from 54 in
// sand"), the unit is then not said.
func (r *Reader) lengthUnit(word string) (string, bool) {
	if unit, ok := lengthWords[word]; ok {
		return unit, true
	}
	return "", word == "" || r.has(singular(word))
}

// joins reports that the words between two depths only join them ("at 9 m and at 12 m").
func (r *Reader) joins(between string) bool {
	return !slices.ContainsFunc(r.find(tokenise(between)), func(it item) bool { return it.role != roleIgnore })
}

func (r *Reader) endsInWater(before string, placed bool) bool {
	sentence := before[strings.LastIndexAny(before, ".;\n")+1:]
	items := undenied(r.find(tokenise(sentence)))
	reach := 1
	if placed {
		reach = waterReach
	}
	return slices.ContainsFunc(items[max(0, len(items)-reach):], func(it item) bool { return it.role == roleWater })
}

// fold writes text in small letters without accents.
func fold(text string) string {
	var out strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(text)) {
		if r < 0x300 || r > 0x36f { // the accents that NFD splits off
			out.WriteRune(r)
		}
	}
	return out.String()
}
