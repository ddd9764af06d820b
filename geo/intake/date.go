package intake

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"waterstrike/geo"
)

// dateSpec is how a column writes its dates.
type dateSpec struct {
	forms     []string
	yearsFrom int  // first of the hundred years of two-digit years; 0: they are not read
	firstIs   bool // 1 January stands for the year alone
}

func (f Field) dateSpec() dateSpec {
	forms := f.Dates
	if len(forms) == 0 {
		forms = []string{"iso"}
	}
	return dateSpec{forms, f.YearsFrom, f.JanuaryFirst == "year"}
}

// dateForms read one way of writing a date each.
var dateForms = map[string]func(text string, s dateSpec) (geo.Date, bool){
	"iso":    readISO,
	"dmy":    func(t string, s dateSpec) (geo.Date, bool) { return readParts(t, s, 0, 1, 2) },
	"mdy":    func(t string, s dateSpec) (geo.Date, bool) { return readParts(t, s, 1, 0, 2) },
	"ymd":    func(t string, s dateSpec) (geo.Date, bool) { return readParts(t, s, 2, 1, 0) },
	"year":   readYear,
	"month":  readNamedMonth,
	"serial": readSerial,
}

// otherCalendar marks dates that say they are of the Ethiopian calendar, seven to eight
// years behind with other months.
var otherCalendar = regexp.MustCompile(`(?i)(?:^|[\d\s.,])E\.? ?C\b`)

// readDate reads a date in any of the forms named. Two forms that read the same text as
// two different days leave it unread.
func readDate(text string, s dateSpec) (geo.Date, bool) {
	text = strings.TrimSuffix(strings.TrimSpace(text), ".")
	if text == "" || len(text) > maxCell {
		return geo.Date{}, false
	}
	var found []geo.Date
	for _, form := range s.forms {
		if d, ok := dateForms[form](text, s); ok && !slices.Contains(found, d) {
			found = append(found, d)
		}
	}
	if len(found) != 1 {
		return geo.Date{}, false
	}
	d := found[0]
	if s.firstIs && d.Month == 1 && d.Day == 1 {
		d.Month, d.Day = 0, 0
	}
	return d, true
}

// readISO reads ISO 8601 of reduced precision; a time of day is read past.
func readISO(text string, _ dateSpec) (geo.Date, bool) {
	if day := len("2006-01-02"); len(text) > day && (text[day] == 'T' || text[day] == ' ') {
		text = text[:day]
	}
	d, err := geo.ParseDate(text)
	return d, err == nil
}

func readYear(text string, _ dateSpec) (geo.Date, bool) {
	year, err := strconv.Atoi(text)
	if err != nil || len(text) != 4 {
		return geo.Date{}, false
	}
	return newDate(year, 0, 0)
}

var dateParts = regexp.MustCompile(`^(\d{1,4})([/.\- ])(\d{1,2})([/.\- ])(\d{1,4})(?:[T ]\d{1,2}:\d{2}(?::\d{2})?)?$`)

// readParts reads three numbers apart by one sign; day, month and year say where each
// stands.
func readParts(text string, s dateSpec, day, month, year int) (geo.Date, bool) {
	m := dateParts.FindStringSubmatch(text)
	if m == nil || m[2] != m[4] {
		return geo.Date{}, false
	}
	parts := []string{m[1], m[3], m[5]}
	y, ok := fullYear(parts[year], s)
	d, errD := strconv.Atoi(parts[day])
	mo, errM := strconv.Atoi(parts[month])
	if !ok || errD != nil || errM != nil || len(parts[day]) > 2 || d == 0 || mo == 0 {
		return geo.Date{}, false
	}
	return newDate(y, mo, d)
}

func fullYear(text string, s dateSpec) (int, bool) {
	year, err := strconv.Atoi(text)
	switch {
	case err != nil:
		return 0, false
	case len(text) == 4:
		return year, true
	case len(text) != 2 || s.yearsFrom == 0:
		return 0, false
	}
	year += s.yearsFrom / 100 * 100
	if year < s.yearsFrom {
		year += 100
	}
	return year, true
}

var namedMonth = regexp.MustCompile(`^(?:(\d{1,2})[ \-/.,]*(?:de )?)?(\p{L}{3,})\.?[ ,\-/]*(?:de )?(?:(\d{1,2})\s*[,/. ]\s*)?(\d{4})$`)

// readNamedMonth reads a month in letters with a year, and a day before or after it.
func readNamedMonth(text string, _ dateSpec) (geo.Date, bool) {
	m := namedMonth.FindStringSubmatch(text)
	if m == nil || m[1] != "" && m[3] != "" {
		return geo.Date{}, false
	}
	month, known := monthByName(m[2])
	year, err := strconv.Atoi(m[4])
	if !known || err != nil {
		return geo.Date{}, false
	}
	day := 0
	if digits := m[1] + m[3]; digits != "" {
		if day, err = strconv.Atoi(digits); err != nil || day == 0 {
			return geo.Date{}, false
		}
	}
	return newDate(year, month, day)
}

// Spreadsheets count days from 30 December 1899; before March 1900 they count a day that
// never was (ECMA-376 part 1, 18.17.4.1), so those serials are left unread.
const (
	firstSerial = 61
	lastSerial  = 109574 // 31 December 2199
)

func readSerial(text string, _ dateSpec) (geo.Date, bool) {
	serial, err := strconv.ParseFloat(text, 64)
	if err != nil || !(serial >= firstSerial && serial < lastSerial+1) {
		return geo.Date{}, false
	}
	epoch := time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
	return geo.DateOf(epoch.AddDate(0, 0, int(math.Floor(serial)))), true
}

func newDate(year, month, day int) (geo.Date, bool) {
	d, err := geo.NewDate(year, month, day)
	return d, err == nil
}
