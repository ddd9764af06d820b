package intake

import (
	"strings"
	"time"

	"waterstrike/geo"
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

// readMonths reads a list of months by name or number; "never" and its like give the
// empty set.
func readMonths(text string) (geo.MonthSet, bool) {
	if isOneOf(text, neverWords) {
		return 0, true
	}
	var set geo.MonthSet
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;/&+", r) }) {
		month, known := monthByName(word)
		if n, _, ok := readNumber(word, "."); ok && n >= 1 && n <= 12 && n == float64(int(n)) {
			month, known = int(n), true
		}
		if !known {
			return 0, false
		}
		set |= geo.Months(time.Month(month))
	}
	return set, set != 0
}
