package season

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"waterstrike/advisor/programme"
	"waterstrike/geo"
)

// ParseWindows reads the crew-weeks of a season: one number, or parts of the season as
// "dry = 10, late = 4". A wrong text is a [geo.Invalid] error that shows it.
//
// Parts of one season need names that differ; a comma may be the decimal mark of a number
// that stands alone.
func ParseWindows(text string) (out []programme.Window, err error) {
	if decimalComma.MatchString(text) {
		text = strings.Replace(text, ",", ".", 1)
	}
	for _, part := range parts(text) {
		name, number, named := strings.Cut(part, "=")
		if !named {
			name, number = "", part
		}
		weeks, err := parseNumber(number)
		if err != nil {
			return nil, fail(geo.Invalid, "season.bad-weeks", geo.With("value", geo.Text(part)))
		}
		w := programme.Window{Name: strings.TrimSpace(name), Weeks: weeks}
		if slices.ContainsFunc(out, func(o programme.Window) bool { return o.Name == w.Name || o.Name == "" || w.Name == "" }) {
			return nil, fail(geo.Invalid, "season.window-twice", geo.With("value", geo.Text(part)))
		}
		out = append(out, w)
	}
	return out, nil
}

// decimalComma is one number with a comma, which otherwise stands between parts.
var decimalComma = regexp.MustCompile(`^\s*\d+,\d+\s*$`)

// inGroups is a number that one language reads a thousand times as large as another.
var inGroups = regexp.MustCompile(`^\d{1,3}(?:[.,]\d{3})+$`)

// ParseAmount reads a sum of money or a number as people write it: blanks between thousands,
// a point or a comma before decimals.
//
//   - Errors: [geo.Invalid] for what is no number, and for what may be two: 8,000 and 8.000.
func ParseAmount(field, text string) (float64, error) {
	plain := strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "").Replace(strings.TrimSpace(text))
	if inGroups.MatchString(plain) {
		whole := strings.NewReplacer(".", "", ",", "").Replace(plain)
		return 0, fail(geo.Invalid, "season.two-numbers", geo.With("value", geo.Text(text)), geo.With("field", geo.Text(field)), geo.With("now", geo.Text(whole)))
	}
	v, err := strconv.ParseFloat(strings.Replace(plain, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, geo.Fail(geo.Invalid, "season.ParseAmount", geo.Say("season.bad-number", geo.With("value", geo.Text(text)), geo.With("field", geo.Text(field))), err)
	}
	return v, nil
}

// ParsePast reads a day as [ParseDay] does, today for none. A month or a year is its last day,
// or today where that has not come: what was achieved by 2023 includes 2023. A day that has
// not come yet is a [geo.Invalid] error.
func ParsePast(text string, today geo.Date) (geo.Date, error) {
	if strings.TrimSpace(text) == "" {
		return today, nil
	}
	d, err := ParseDay(text)
	if err == nil && d.Compare(today) > 0 {
		return d, fail(geo.Invalid, "season.future-day", geo.With("value", geo.Text(text)))
	}
	if end := lastDay(d); err == nil && end.Compare(today) < 0 {
		return end, nil
	}
	return today, err
}

// lastDay is the last day that a date may stand for.
func lastDay(d geo.Date) geo.Date {
	if d.Month == 0 {
		d.Month = 12
	}
	if d.Day == 0 {
		d = geo.DateOf(time.Date(d.Year, time.Month(d.Month)+1, 0, 0, 0, 0, 0, time.UTC))
	}
	return d
}

// ParseDay reads a day, month or year as ISO 8601 writes it. A wrong text is a
// [geo.Invalid] error that shows it.
func ParseDay(text string) (geo.Date, error) {
	d, err := geo.ParseDate(strings.TrimSpace(text))
	if err != nil {
		return d, geo.Fail(geo.Invalid, "season.ParseDay", geo.Say("season.bad-day", geo.With("value", geo.Text(text))), err)
	}
	return d, nil
}

// ParseFloors reads what districts get at least, as "North = 3, South = 400 people":
// villages drilled in, or people expected to be newly served. A wrong text is a
// [geo.Invalid] error that shows it.
func ParseFloors(text string, people func(word string) bool) (out []programme.Floor, err error) {
	for _, part := range parts(text) {
		name, number, named := strings.Cut(part, "=")
		words := strings.Fields(number)
		bad := fail(geo.Invalid, "season.bad-floor", geo.With("value", geo.Text(part)))
		if !named || len(words) == 0 || len(words) > 2 || len(words) == 2 && !people(words[1]) {
			return nil, bad
		}
		n, err := parseNumber(words[0])
		if err != nil || len(words) == 1 && n != math.Trunc(n) {
			return nil, bad
		}
		f := programme.Floor{District: strings.TrimSpace(name), Villages: int(n)}
		if len(words) == 2 {
			f.Villages, f.People = 0, n
		}
		if out, err = withFloor(out, f); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// withFloor adds a floor: a district may be promised villages and people, each once.
func withFloor(all []programme.Floor, f programme.Floor) ([]programme.Floor, error) {
	i := slices.IndexFunc(all, func(o programme.Floor) bool { return geo.FoldName(o.District) == geo.FoldName(f.District) })
	switch {
	case i < 0:
		return append(all, f), nil
	case all[i].People == 0 && f.Villages == 0:
		all[i].People = f.People
	case all[i].Villages == 0 && f.People == 0:
		all[i].Villages = f.Villages
	default:
		return nil, fail(geo.Invalid, "season.floor-twice", geo.With("district", geo.Text(f.District)))
	}
	return all, nil
}

// ParseList reads names between commas.
func ParseList(text string) []string { return parts(text) }

func parts(text string) (out []string) {
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// parseNumber reads an amount of 0 or more; a blank between thousands is passed over.
func parseNumber(text string) (float64, error) {
	v, err := ParseAmount("", text)
	if err != nil {
		return 0, err
	}
	if v < 0 {
		return 0, strconv.ErrRange
	}
	return v, nil
}
