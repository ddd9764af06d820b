package say

import (
	"regexp"
	"strings"
)

// unitGap finds the blank between a number and its unit in a catalogue text.
var unitGap = regexp.MustCompile(`([\d}]) (m|km|cm|mm|L/s|L/min|mg/L|m²/d|m²/j|%|N|E)([^\pL]|$)`)

// torn finds a range of numbers after whose dash a line may end.
var torn = regexp.MustCompile(`(\d–)(\d)`)

// frenchGaps are the blanks French sets before and inside its double marks.
var frenchGaps = strings.NewReplacer(
	" :", nbsp+":", " ;", narrowNBSP+";", " ?", narrowNBSP+"?", " !", narrowNBSP+"!",
	"« ", "«"+nbsp, " »", nbsp+"»",
)

// typeset makes the blanks and dashes of a catalogue text unbreakable where a line must not
// end, so that translators can type plain blanks.
func typeset(l Lang, s string) string {
	if strings.ContainsAny(s, "0123456789}") { // few texts: the program starts the sooner
		s = unitGap.ReplaceAllString(s, "${1}"+nbsp+"${2}${3}")
		s = torn.ReplaceAllString(s, "${1}"+joiner+"${2}")
	}
	if l == FR {
		s = frenchGaps.Replace(s)
	}
	return s
}
