package features

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// How many features a page holds: the standard's example of a default, and our most.
const (
	usualLimit = 10
	mostLimit  = 10_000
)

// Query is what is asked of a collection.
type Query struct {
	Where
	Limit  int
	Offset int
}

func bad(name, value string) error {
	return geo.Fail(geo.Invalid, "features.Parse", geo.Say("problem.bad-parameter", geo.With("value", geo.Text(value)), geo.With("field", geo.Text(name))), nil)
}

// Parse reads the parameters of a request for items: limit, offset, bbox, datetime, and
// any property of the collection with the value that it must have. f and lang are the
// server's. A parameter that is none of these is a [geo.Invalid] error, as the standard
// wants (requirement /req/core/query-param-unknown).
func Parse(q url.Values, c Collection) (out Query, err error) {
	out.Limit = usualLimit
	for _, name := range sorted(q) {
		text := q.Get(name)
		switch name {
		case "f", "lang":
		case "limit":
			out.Limit, err = whole(name, text, 1)
			out.Limit = min(out.Limit, c.most())
		case "offset":
			out.Offset, err = whole(name, text, 0)
		case "bbox":
			out.Box, err = parseBox(text)
		case "bbox-crs":
			if text != CRS84 {
				err = bad(name, text)
			}
		case "datetime":
			out.From, out.Until, err = parseInterval(text)
		default:
			at := slices.IndexFunc(c.Properties, func(p Property) bool { return p.Name == name })
			if at < 0 || c.Worked || !c.Properties[at].takes(text) {
				err = bad(name, text)
			}
			out.Equal = append(out.Equal, Equal{at, text})
		}
		if err != nil {
			return Query{}, err
		}
	}
	return out, nil
}

// takes reports that a value is one that the property can have.
func (p Property) takes(text string) (ok bool) {
	var err error
	switch p.Type {
	case "number", "integer":
		_, err = strconv.ParseFloat(text, 64)
	case "boolean":
		_, err = strconv.ParseBool(text)
	}
	return err == nil
}

func sorted(q url.Values) []string {
	names := make([]string, 0, len(q))
	for name := range q {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func whole(name, text string, least int) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < least {
		return 0, bad(name, text)
	}
	return n, nil
}

// parseBox reads west, south, east, north, with heights between or without. A west edge
// east of the east edge crosses the antimeridian.
func parseBox(text string) (*orb.Bound, error) {
	parts := strings.Split(text, ",")
	if len(parts) == 6 {
		parts = []string{parts[0], parts[1], parts[3], parts[4]}
	}
	if len(parts) != 4 {
		return nil, bad("bbox", text)
	}
	var v [4]float64
	for i, p := range parts {
		x, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || !(x >= -360 && x <= 360) {
			return nil, bad("bbox", text)
		}
		v[i] = x
	}
	if v[1] > v[3] || v[1] < -90 || v[3] > 90 || v[0] < -180 || v[2] > 180 {
		return nil, bad("bbox", text)
	}
	return &orb.Bound{Min: orb.Point{v[0], v[1]}, Max: orb.Point{v[2], v[3]}}, nil
}

// parseInterval reads a day or an interval of RFC 3339, open at either end by ".." or
// nothing. Times of day are cut off: records have days.
func parseInterval(text string) (from, until geo.Date, err error) {
	first, last, both := strings.Cut(text, "/")
	if !both {
		last = first
	}
	if from, err = parseInstant(text, first); err == nil {
		until, err = parseInstant(text, last)
	}
	if err == nil && (from == geo.Date{} && until == geo.Date{} || from != geo.Date{} && until != geo.Date{} && from.Compare(until) > 0) {
		err = bad("datetime", text)
	}
	return from, until, err
}

func parseInstant(whole, text string) (geo.Date, error) {
	if text == "" || text == ".." {
		return geo.Date{}, nil
	}
	day, time, timed := strings.Cut(text, "T")
	d, err := geo.ParseDate(day)
	if err != nil || d.Day == 0 || timed && !strings.HasSuffix(time, "Z") && !strings.ContainsAny(time, "+-") {
		return geo.Date{}, bad("datetime", whole)
	}
	return d, nil
}

// During reports that a day, month or year meets the interval. What has no day meets every
// one: the standard leaves features without time in (requirement /req/core/fc-time-response).
func (w *Where) During(d geo.Date) bool {
	if d == (geo.Date{}) {
		return true
	}
	first, last := d, d
	if d.Month == 0 {
		first.Month, last.Month = 1, 12
	}
	if d.Day == 0 {
		first.Day, last.Day = 1, 31
	}
	return (w.From == geo.Date{} || last.Compare(w.From) >= 0) && (w.Until == geo.Date{} || first.Compare(w.Until) <= 0)
}

// Written is a value as a parameter gives it.
func Written(v any) string {
	switch x := v.(type) {
	case string:
		return x
	case float64:
		return strconv.FormatFloat(x, 'f', -1, 64)
	case int:
		return strconv.Itoa(x)
	case bool:
		return strconv.FormatBool(x)
	}
	return ""
}
