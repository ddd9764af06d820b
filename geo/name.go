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
	if plain(name) { // most names, of a million bores
		return strings.Join(strings.Fields(strings.ToLower(name)), " ")
	}
	t := transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), cases.Fold(), norm.NFC)
	out, _, err := transform.String(t, name)
	if err != nil {
		out = name
	}
	return strings.Join(strings.Fields(out), " ")
}

// plain tells that a text is ASCII alone, where folding is lower case.
func plain(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return r > unicode.MaxASCII }) < 0
}
