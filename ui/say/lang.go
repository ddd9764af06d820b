package say

import (
	"fmt"

	"golang.org/x/text/language"
)

// Lang is a language the catalogue speaks. The zero value is English.
type Lang uint8

// The languages, in the order in which they are offered.
const (
	EN Lang = iota
	FR
	PT
)

// style is what a language does with numbers and dates. The marks follow Unicode
// CLDR: fr, and pt-PT, which CLDR makes the parent of the African pt locales.
type style struct {
	tag      language.Tag
	decimal  string
	group    string
	percent  string // what follows the number of a percentage
	firstDay string // how the first day of a month is written
	axes     string // letters for north, south, east, west
	pairSep  string // between latitude and longitude
	to       string // word between the ends of a range that a dash would make unreadable
	over     string // before the greatest percentage that is told, where a range ends above it

	currencyFirst bool // the currency code stands before the amount
}

const (
	nbsp       = "\u00a0"
	narrowNBSP = "\u202f"
	joiner     = "\u2060" // no line ends here
)

var styles = [...]style{
	EN: {language.English, ".", ",", "%", "1", "NSEW", ", ", "to", "over", true},
	FR: {language.French, ",", narrowNBSP, narrowNBSP + "%", "1er", "NSEO", "; ", "à", "plus de", false},
	PT: {language.Portuguese, ",", nbsp, "%", "1", "NSEO", "; ", "a", "mais de", false},
}

// Langs returns every language, in the order in which they are offered.
func Langs() []Lang {
	all := make([]Lang, len(styles))
	for i := range all {
		all[i] = Lang(i)
	}
	return all
}

// String returns the BCP 47 tag: "en", "fr" or "pt".
func (l Lang) String() string {
	if !l.known() {
		return "und"
	}
	return styles[l].tag.String()
}

func (l Lang) known() bool { return int(l) < len(styles) }

// ParseLang reads a BCP 47 language tag and ignores its region: "fr-SN" is
// [FR]. It returns an error for a language the catalogue does not speak.
func ParseLang(s string) (Lang, error) {
	tag, err := language.Parse(s)
	if err != nil {
		return EN, fmt.Errorf("say: %q is not a language tag; use en, fr or pt", s)
	}
	base, _ := tag.Base()
	for _, l := range Langs() {
		if base.String() == l.String() {
			return l, nil
		}
	}
	return EN, fmt.Errorf("say: no texts in %q; use en, fr or pt", s)
}

// Negotiate returns the language that suits an Accept-Language header (RFC 9110)
// best, or the fallback when the header is empty, unreadable or asks for none of ours.
func Negotiate(acceptLanguage string, fallback Lang) Lang {
	tags, _, err := language.ParseAcceptLanguage(acceptLanguage)
	if err != nil || len(tags) == 0 {
		return fallback
	}
	ours := make([]language.Tag, len(styles))
	for i, s := range styles {
		ours[i] = s.tag
	}
	_, index, confidence := language.NewMatcher(ours).Match(tags...)
	if confidence == language.No {
		return fallback
	}
	return Lang(index)
}
