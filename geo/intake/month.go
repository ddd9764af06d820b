package intake

import (
	"slices"
	"strings"
	"time"
	"unicode"

	"waterstrike/geo"

	"golang.org/x/text/unicode/norm"
)

// monthNames are the beginnings that tell the months apart in English, French and
// Portuguese, folded.
var monthNames = [12][]string{
	{"jan"},
	{"feb", "fev", "fév"},
	{"mar"},
	{"apr", "avr", "abr"},
	{"may", "mai"},
	{"jun", "juin"},
	{"jul", "juil"},
	{"aug", "aou", "aoû", "ago"},
	{"sep", "set"},
	{"oct", "out"},
	{"nov"},
	{"dec", "déc", "dez"},
}

func monthByName(name string) (int, bool) {
	name = strings.ToLower(name)
	for i, starts := range monthNames {
		for _, s := range starts {
			if strings.HasPrefix(name, s) {
				return i + 1, true
			}
		}
	}
	return 0, false
}

// Words of statements about months, folded: those that say nothing by themselves, those
// between the first and the last month of a span, and those for the whole year.
var (
	idleOfMonths = strings.Fields("dry in from only and month months during without no water mainly usually about by the of " +
		"sec seche ne a o de du d en et les le mois tarit sans eau seco seca em e do da mes meses sem agua no na fica")
	spanWords = strings.Fields("to till until through - a au jusqu jusque ate")
	yearWords = strings.Fields("year all annee toute tout ano todo whole always toujours sempre l")
)

var monthUnits = []string{"month", "months", "mois", "mes", "meses"}

// readMonths reads a list of months by name or number, spans of them ("March to May",
// "Nov-Feb") and statements such as "dry in March"; "never dry" and its like give the
// empty set, "all year" every month. Any other word leaves all unread.
func readMonths(text string) (geo.MonthSet, bool) {
	words := monthWords(text)
	if slices.ContainsFunc(words, func(w string) bool { return isOneOf(w, neverWords) }) {
		return 0, !slices.ContainsFunc(words, isMonth)
	}
	var set geo.MonthSet
	last, span, year := 0, false, false
	for i, word := range words {
		month, known := monthOf(word)
		switch {
		case known && hasDigit(word) && i+1 < len(words) && slices.Contains(monthUnits, words[i+1]):
			return 0, false // how many months, not which
		case known && span && last > 0:
			set |= monthsBetween(last, month)
			last, span = month, false
		case known:
			set |= geo.Months(time.Month(month))
			last = month
		case slices.Contains(yearWords, word):
			year = true
		case last > 0 && slices.Contains(spanWords, word):
			span = true
		case !slices.Contains(idleOfMonths, word):
			return 0, false
		}
	}
	if year && set == 0 && !span {
		return monthsBetween(1, 12), true
	}
	return set, set != 0 && !span && !year
}

// monthWords splits a statement into folded words; a dash between two months is a word.
func monthWords(text string) []string {
	var spaced strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(text)) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r == '-' || r == '–':
			spaced.WriteString(" - ")
		case strings.ContainsRune(",;/&+()\n'’", r):
			spaced.WriteByte(' ')
		default:
			spaced.WriteRune(r)
		}
	}
	words := strings.Fields(spaced.String())
	for i, w := range words {
		words[i] = strings.TrimSuffix(w, ".")
	}
	return words
}

func isMonth(word string) bool { _, known := monthOf(word); return known }

func monthOf(word string) (int, bool) {
	if n, _, ok := readNumber(word, "."); ok {
		return int(n), n >= 1 && n <= 12 && n == float64(int(n))
	}
	return monthByName(word)
}

// monthsBetween returns the months from one to another, over the end of the year where the
// last comes first.
func monthsBetween(first, last int) (set geo.MonthSet) {
	for m := first; ; m = m%12 + 1 {
		set |= geo.Months(time.Month(m))
		if m == last {
			return set
		}
	}
}
