package say

import (
	"regexp"
	"strings"
)

// unitGap finds the blank between a number and its unit in a catalogue text.
var unitGap = regexp.MustCompile(`(\d) (m|km|L/s|L/min|mg/L|%|N|E)([^\pL]|$)`)

// frenchGaps are the blanks French sets before and inside its double marks.
var frenchGaps = strings.NewReplacer(
	" :", nbsp+":", " ;", narrowNBSP+";", " ?", narrowNBSP+"?", " !", narrowNBSP+"!",
	"« ", "«"+nbsp, " »", nbsp+"»",
)

// typeset makes the blanks of a catalogue text unbreakable where a line must not
// end, so that translators can type plain blanks.
func typeset(l Lang, s string) string {
	if strings.ContainsAny(s, "0123456789") { // few texts: the program starts the sooner
		s = unitGap.ReplaceAllString(s, "${1}"+nbsp+"${2}${3}")
	}
	if l == FR {
		s = frenchGaps.Replace(s)
	}
	return s
}
