package geo

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Analyte is what a water sample can be tested for.
type Analyte struct {
	Code   string
	Unit   string             // of the limits, such as "mg/L"
	Basis  string             // of the limits, such as "NO3"; empty where only one is in use
	Bases  map[string]float64 // other bases, with the factor that turns their value into one of Basis
	Limits []Limit            // what results are judged by, health first
	names  []string           // folded, of all languages
}

// NeededAnalytes returns the codes of those without which nobody knows whether water may be
// drunk: dirt, what babies fall ill of, salt, and the two poisons of the ground that are met
// most. Common practice, no source.
func NeededAnalytes() []string { return []string{"e-coli", "nitrate", "ec", "arsenic", "fluoride"} }

// LimitKind is what a limit guards.
type LimitKind string

// The kinds of limit.
const (
	HealthLimit LimitKind = "health"     // a guideline value for drinking water
	AcceptLimit LimitKind = "acceptance" // taste, stain, scale or treatment: no danger by itself
)

// Limit is a range that a result should stay in; a missing end is open.
type Limit struct {
	Kind        LimitKind
	Low, High   Opt[float64] // in the analyte's unit and basis
	Year        Opt[int]     // of the value
	Provisional bool
	Mark        string // "source" when read in the publication or a reprint, "memory" when not
}

// Analytes lists what samples can be tested for, in a fixed order.
func Analytes() []Analyte { return slices.Clone(analytes()) }

// FindAnalyte reads the name or sign of an analyte in English, French or Portuguese, as a
// column or a cell writes it; basis is what the name itself says, such as "N" in
// "nitrate as N".
func FindAnalyte(name string) (a Analyte, basis string, ok bool) {
	words := foldName(name)
	if a, ok = analyteNamed(words); ok {
		return a, a.basisIn(words), true
	}
	for cut := len(words) - 1; cut > 0; cut-- {
		a, ok = analyteNamed(words[:cut])
		if basis := a.basisIn(words[cut:]); ok && basis != "" {
			return a, basis, true
		}
	}
	if before, _, cut := strings.Cut(name, "("); cut { // "Nitrate (mg/L)": the unit is read elsewhere
		return FindAnalyte(before)
	}
	return Analyte{}, "", false
}

func analyteNamed(words []string) (Analyte, bool) {
	text := strings.Join(words, " ")
	i := slices.IndexFunc(analytes(), func(a Analyte) bool {
		return text == strings.ReplaceAll(a.Code, "-", " ") || slices.Contains(a.names, text)
	})
	if i < 0 {
		return Analyte{}, false
	}
	return analytes()[i], true
}

// basisIn returns the basis that the last of some words name, "" when they name none.
func (a Analyte) basisIn(words []string) string {
	if len(words) == 0 {
		return ""
	}
	last := words[len(words)-1]
	for _, joining := range words[:len(words)-1] {
		if !slices.Contains([]string{"as", "en", "como", "in", "de", "d"}, joining) {
			return ""
		}
	}
	for basis := range a.Bases {
		if strings.EqualFold(basis, last) {
			return basis
		}
	}
	if strings.EqualFold(a.Basis, last) {
		return a.Basis
	}
	return ""
}

// foldName splits a name into words without case, accents, signs or charges.
func foldName(name string) []string {
	var out strings.Builder
	for _, r := range norm.NFKD.String(strings.ToLower(name)) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r <= unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			out.WriteRune(r)
		default:
			out.WriteByte(' ')
		}
	}
	return strings.Fields(out.String())
}
