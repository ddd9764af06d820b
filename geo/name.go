package geo

import (
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
)

// FoldName is a name without what people write differently: case, accents, blanks. A text
// that cannot be folded stays as it is, but for blanks.
func FoldName(name string) string {
	t := transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), cases.Fold(), norm.NFC)
	out, _, err := transform.String(t, name)
	if err != nil {
		out = name
	}
	return strings.Join(strings.Fields(out), " ")
}
