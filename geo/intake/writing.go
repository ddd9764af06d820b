package intake

import (
	"slices"
	"strings"

	"waterstrike/geo"
)

// These tell how the cells of a column are written, from the cells alone.

// decimalOf tells the decimal mark of the columns that hold numbers: "," when cells read
// only so, "." when only so or when none has decimals; not known when both stand.
func decimalOf(columns []*profile) (string, bool) {
	comma, point := 0, 0
	for _, p := range columns {
		for _, text := range p.sample {
			_, _, asPoint := readNumber(text, ".")
			_, _, asComma := readNumber(text, ",")
			switch {
			case asComma && !asPoint && strings.Contains(text, ","):
				comma++
			case asPoint && !asComma && strings.Contains(text, "."):
				point++
			}
		}
	}
	switch {
	case comma > 20*point:
		return ",", true
	case point >= 20*comma:
		return "", true
	}
	return "", false
}

// enough is the share of cells that must read as what a column is taken for.
const enough = 0.8

// datesOf tells the forms of the dates of a column. Day and month change places only by
// what cannot be otherwise: a column where no number above twelve tells them apart is not
// read at all.
func datesOf(p *profile) (forms []string, why geo.Code) {
	day, month, both, short := 0, 0, 0, 0
	for _, text := range p.sample {
		dmy, mdy := readsAs(text, "dmy", firstShort), readsAs(text, "mdy", firstShort)
		switch {
		case dmy && mdy:
			both++
		case dmy:
			day++
		case mdy:
			month++
		}
		if (dmy || mdy) && !readsAs(text, "dmy", 0) && !readsAs(text, "mdy", 0) {
			short++
		}
	}
	switch {
	case day > 0 && month > 0:
		return nil, "propose.dates-mixed"
	case both > 0 && day+month == 0:
		return nil, "propose.dates-ambiguous"
	case short > 0:
		return nil, "propose.dates-short"
	}
	forms = otherForms(p)
	if day > 0 {
		forms = append(forms, "dmy")
	}
	if month > 0 {
		forms = append(forms, "mdy")
	}
	if p.share(func(text string) bool { _, ok := readDate(text, dateSpec{forms: forms}); return ok }) < enough {
		return nil, "propose.no-dates"
	}
	return forms, ""
}

// dates writes into a field how the dates of its column are written: as a person chose, or
// as its cells tell.
func (d *draft) dates(c *profile, f *Field) (why geo.Code) {
	by := d.written(c)
	if !slices.Contains(DateForms(), by) { // nothing was said, or what is no form
		f.Dates, why = datesOf(c)
	} else {
		form, short := strings.CutSuffix(by, shortYears)
		f.Dates = []string{form}
		if short {
			f.YearsFrom = shortFrom
		}
	}
	if slices.Equal(f.Dates, []string{"iso"}) {
		f.Dates = nil // the usual one
	}
	return why
}

// doubtful are the texts that day and month may stand in either way, or all where none does:
// a column's other dates would not show what is asked.
func doubtful(sample []string) []string {
	var out []string
	for _, text := range sample {
		if readsAs(text, "dmy", firstShort) || readsAs(text, "mdy", firstShort) {
			out = append(out, text)
		}
	}
	if len(out) == 0 {
		return sample
	}
	return out
}

// firstShort is any first year of two-digit years: here it matters only that they are read.
const firstShort = 1950

func readsAs(text, form string, yearsFrom int) bool {
	_, ok := readDate(text, dateSpec{forms: []string{form}, yearsFrom: yearsFrom})
	return ok
}

// otherForms lists the forms besides day and month that the cells of a column need.
func otherForms(p *profile) []string {
	var forms []string
	for _, form := range []string{"iso", "ymd", "month", "serial"} {
		read := slices.ContainsFunc(p.sample, func(text string) bool {
			ok := readsAs(text, form, 0)
			_, before := readDate(text, dateSpec{forms: append([]string{"iso"}, forms...)})
			return ok && (form == "iso" || !before) && (form != "serial" || plausibleSerial(text))
		})
		if read {
			forms = append(forms, form)
		}
	}
	return forms
}

// plausibleSerial keeps bare numbers that are years or counts from passing as days: only
// serials of the years 1954 to 2064 do.
func plausibleSerial(text string) bool {
	v, unit, ok := readNumber(text, ".")
	return ok && unit == "" && v >= 20000 && v < 60000
}

// valuesOf gives each text of a column the value that its name stands for. Texts that no
// name fits are left out and returned.
func valuesOf(p *profile, meant, kind, field string, list []names) (values map[string]string, unknown []string) {
	values = map[string]string{}
	plain := true
	for _, text := range p.sample {
		value := valueOf(text, meant, kind, field, list)
		if value == "" {
			unknown = append(unknown, text)
			continue
		}
		plain = plain && value == text
		values[text] = value
	}
	if plain && len(unknown) == 0 {
		return nil, nil // the codes themselves
	}
	return values, unknown
}

func valueOf(text, meant, kind, field string, list []names) string {
	if field != "method" && slices.Contains(choices(kind, field), text) {
		return text
	}
	words := wordsOf(text)
	value := valueNamed(words, meant, list)
	if value == "" && field == "outcome" {
		return reasonOf(words, list)
	}
	return value
}

// reasonOf returns what the words beside a plain statement of failure say, as in "failed,
// dry" or "abandoned due to collapse".
func reasonOf(words []string, list []names) string {
	words = slices.DeleteFunc(words, func(w string) bool {
		return slices.Contains([]string{"due", "to", "because", "cause", "causa", "devido", "por", "and", "et", "e", "was"}, w)
	})
	for i := 1; i < len(words); i++ {
		first, rest := valueNamed(words[:i], "outcome", list), valueNamed(words[i:], "outcome", list)
		switch {
		case first == string(geo.Failed) && rest != string(geo.Producing):
			return rest
		case rest == string(geo.Failed) && first != string(geo.Producing):
			return first
		}
	}
	return ""
}

// valueNamed returns the value that a few words are the name of; "" when none.
func valueNamed(words []string, meant string, list []names) string {
	best, value := 0.0, ""
	for _, n := range list {
		if n.meant != meant || n.value == "" {
			continue
		}
		for _, name := range n.words {
			if len(name) != len(words) {
				continue
			}
			if l := likeness(words, name); l > best {
				best, value = l, n.value
			}
		}
	}
	if best < 0.89 { // one slip in one word
		return ""
	}
	return value
}
