package season

import (
	"math"
	"strconv"
	"strings"

	"waterstrike/advisor/programme"
	"waterstrike/geo"
)

// ParseWindows reads the crew-weeks of a season: one number, or parts of the season as
// "dry = 10, late = 4". A wrong text is a [geo.Invalid] error that shows it.
func ParseWindows(text string) (out []programme.Window, err error) {
	for _, part := range parts(text) {
		name, number, named := strings.Cut(part, "=")
		if !named {
			name, number = "", part
		}
		weeks, err := parseNumber(number)
		if err != nil {
			return nil, fail(geo.Invalid, "season.bad-weeks", geo.With("value", geo.Text(part)))
		}
		out = append(out, programme.Window{Name: strings.TrimSpace(name), Weeks: weeks})
	}
	return out, nil
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
		out = append(out, f)
	}
	return out, nil
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
	v, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(text), " ", ""), 64)
	if err != nil {
		return 0, err
	}
	if !(v >= 0) || math.IsInf(v, 0) {
		return 0, strconv.ErrRange
	}
	return v, nil
}
