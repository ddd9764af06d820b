package sheet

import (
	"math"
	"time"

	"waterstrike/geo"
	"waterstrike/ui/say"
)

// Message turns a message of the rooms below into one that the catalogue can say.
func Message(m geo.Message) say.Message {
	out := say.Message{Code: string(m.Code)}
	for _, a := range m.Args {
		out.Args = append(out.Args, say.With(a.Name, value(a.Value)))
	}
	return out
}

// value keeps the type of an argument. A value of no known type stays empty, which the
// catalogue shows as a gap in the sentence.
func value(v geo.Value) say.Value {
	switch v := v.(type) {
	case geo.Metres:
		return say.Metres(float64(v))
	case geo.MetresRange:
		return say.MetresRange(v.Lo, v.Hi)
	case geo.DistanceM:
		return say.Distance(float64(v))
	case geo.LPS:
		return say.LitresPerSecond(float64(v))
	case geo.Chance:
		return say.Chance(float64(v))
	case geo.ChanceRange:
		return say.ChanceRange(v.Lo, v.Hi)
	case geo.Count:
		return say.Count(int(v))
	case geo.Number:
		return number(float64(v))
	case geo.Text:
		return say.Text(string(v))
	case geo.Ref:
		return say.Of(string(v))
	case geo.Refs:
		return several(v)
	case geo.Month:
		return say.Month(time.Month(v))
	case geo.Date:
		return dateValue(v)
	}
	return say.Value{}
}

// several names several codes one after another.
func several(codes geo.Refs) say.Value {
	switch len(codes) {
	case 0:
		return say.Value{}
	case 1:
		return say.Of(string(codes[0]))
	}
	return say.Of("value.listed", say.With("reason", say.Of(string(codes[0]))), say.With("second", several(codes[1:])))
}

// number writes a whole number without a decimal, any other with one.
func number(v float64) say.Value {
	if v == math.Trunc(v) {
		return say.Number(v, 0)
	}
	return say.Number(v, 1)
}

func dateValue(d geo.Date) say.Value {
	if d.Day == 0 {
		return say.DateOfMonth(d.Year, time.Month(d.Month))
	}
	return say.Date(time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC))
}
