package geo_test

import (
	"encoding/json"
	"testing"
	"time"

	"pgregory.net/rapid"

	"waterstrike/geo"
)

// The forms are those of ISO 8601-1:2019, 5.2.2: a complete calendar date in the extended
// format and its two forms of reduced precision. The years are this project's own limit.
func TestParseDate(t *testing.T) {
	for _, c := range []struct {
		text string
		want geo.Date
		ok   bool
	}{
		{"2004-03-21", geo.Date{Year: 2004, Month: 3, Day: 21}, true},
		{"2004-03", geo.Date{Year: 2004, Month: 3}, true},
		{"2004", geo.Date{Year: 2004}, true},
		{"2004-02-29", geo.Date{Year: 2004, Month: 2, Day: 29}, true},
		{"2000-02-29", geo.Date{Year: 2000, Month: 2, Day: 29}, true},
		{"1800", geo.Date{Year: 1800}, true},
		{"2200-12-31", geo.Date{Year: 2200, Month: 12, Day: 31}, true},
		{"1900-02-29", geo.Date{}, false}, // no leap year in the Gregorian calendar
		{"2003-02-29", geo.Date{}, false},
		{"2004-04-31", geo.Date{}, false},
		{"2004-13", geo.Date{}, false},
		{"2004-00", geo.Date{}, false},
		{"2004-03-00", geo.Date{}, false},
		{"1799-12-31", geo.Date{}, false},
		{"2201", geo.Date{}, false},
		{"04-03-21", geo.Date{}, false},
		{"2004-3-21", geo.Date{}, false},
		{"20040321", geo.Date{}, false}, // the basic format is not read: it looks like a number
		{"21/03/2004", geo.Date{}, false},
		{"2004-03-21T10:00:00Z", geo.Date{}, false},
		{" 2004", geo.Date{}, false},
		{"", geo.Date{}, false},
	} {
		got, err := geo.ParseDate(c.text)
		if got != c.want || (err == nil) != c.ok {
			t.Errorf("%q: %+v, %v; want %+v", c.text, got, err, c.want)
		}
	}
}

func TestNewDate(t *testing.T) {
	for _, c := range []struct {
		year, month, day int
		ok               bool
	}{
		{2004, 3, 21, true},
		{2004, 3, 0, true},
		{2004, 0, 0, true},
		{2004, 0, 21, false}, // a day of no month
		{2004, -1, 0, false},
		{2004, 2, -1, false},
		{2004, 2, 30, false},
		{0, 0, 0, false},
		{1799, 1, 1, false},
	} {
		if _, err := geo.NewDate(c.year, c.month, c.day); (err == nil) != c.ok {
			t.Errorf("%d, %d, %d: %v", c.year, c.month, c.day, err)
		}
	}
}

func dates() *rapid.Generator[geo.Date] {
	return rapid.Custom(func(t *rapid.T) geo.Date {
		start := time.Date(1800, 1, 1, 0, 0, 0, 0, time.UTC)
		d := geo.DateOf(start.AddDate(0, 0, rapid.IntRange(0, 400*365).Draw(t, "days after 1800")))
		switch rapid.SampledFrom([]string{"year", "month", "day"}).Draw(t, "precision") {
		case "year":
			d.Month, d.Day = 0, 0
		case "month":
			d.Day = 0
		}
		return d
	})
}

func TestDateRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := dates().Draw(t, "date")
		if back, err := geo.ParseDate(d.String()); err != nil || back != d {
			t.Fatalf("%q comes back as %+v, %v", d.String(), back, err)
		}
		data, err := json.Marshal(d)
		var back geo.Date
		if err != nil || json.Unmarshal(data, &back) != nil || back != d {
			t.Fatalf("%+v comes back from %s as %+v", d, data, back)
		}
	})
}

// ISO 8601 dates of the same precision sort as their text does; Compare must agree.
func TestDateCompare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := dates().Draw(t, "a"), dates().Draw(t, "b")
		want := 0
		if a.String() < b.String() {
			want = -1
		} else if a.String() > b.String() {
			want = 1
		}
		if got := a.Compare(b); got != want || b.Compare(a) != -want {
			t.Fatalf("%v against %v: %d, want %d", a, b, got, want)
		}
		if (geo.Date{}).Compare(a) != -1 {
			t.Fatalf("no date does not come before %v", a)
		}
	})
}

func FuzzParseDate(f *testing.F) {
	for _, seed := range []string{"2004", "2004-03", "2004-03-21", "2004-02-30", "", "0000", "-004-01", "2004-03-21 "} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := geo.ParseDate(text)
		if err != nil {
			if d != (geo.Date{}) {
				t.Errorf("%q: %+v beside an error", text, d)
			}
			return
		}
		if d.String() != text {
			t.Errorf("%q is written back as %q", text, d)
		}
		if _, err := geo.NewDate(d.Year, d.Month, d.Day); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	})
}

func TestYearDay(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
		ok   bool
	}{
		{"2004", 0, false},
		{"2004-01", 15, true},
		{"2004-01-01", 1, true},
		{"2004-12-31", 366, true}, // a leap year
		{"2003-12-31", 365, true},
	} {
		d, err := geo.ParseDate(c.text)
		if err != nil {
			t.Fatal(err)
		}
		if got, ok := d.YearDay(); got != c.want || ok != c.ok {
			t.Errorf("%s: %d, %v", c.text, got, ok)
		}
	}
	if _, ok := (geo.Date{}).YearDay(); ok {
		t.Error("no date has a day of the year")
	}
}

func TestDateText(t *testing.T) {
	d := geo.Date{Year: 2004}
	if err := d.UnmarshalText(nil); err != nil || d != (geo.Date{}) {
		t.Errorf("an empty text gives %+v, %v", d, err)
	}
	if err := d.UnmarshalText([]byte("yesterday")); err == nil {
		t.Error("yesterday is a date")
	}
	if text, err := (geo.Date{}).MarshalText(); err != nil || len(text) != 0 {
		t.Errorf("no date is written as %q, %v", text, err)
	}
	// 23:30 west of Greenwich is still that day there, though the next one at Greenwich.
	late := time.Date(2004, 3, 21, 23, 30, 0, 0, time.FixedZone("", -5*3600))
	if got := geo.DateOf(late); got != (geo.Date{Year: 2004, Month: 3, Day: 21}) {
		t.Errorf("%v is the day %v", late, got)
	}
}
