package geo

import (
	"cmp"
	"fmt"
	"time"
)

// Date is a calendar date as precise as it was written: a year, a year and month, or a
// full day. Month or Day 0 means that it was not written. The zero value is no date.
type Date struct {
	Year, Month, Day int
}

// NewDate checks that the parts make a real date of the years 1800 to 2200, in the
// Gregorian calendar. Month and day may be 0 where they are not known, the day alone or
// both.
func NewDate(year, month, day int) (Date, error) {
	exists := year >= 1800 && year <= 2200 && month >= 0 && month <= 12 && day >= 0
	if day != 0 {
		exists = exists && month != 0 && time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Day() == day
	}
	if !exists {
		return Date{}, fmt.Errorf("geo: no date %04d-%02d-%02d in the years 1800 to 2200", year, month, day)
	}
	return Date{year, month, day}, nil
}

// DateOf returns the calendar day of t in its own zone.
func DateOf(t time.Time) Date { return Date{t.Year(), int(t.Month()), t.Day()} }

// ParseDate reads ISO 8601 with reduced precision: "2004", "2004-03" or "2004-03-21".
func ParseDate(text string) (Date, error) {
	for _, form := range []string{"2006-01-02", "2006-01", "2006"} {
		t, err := time.Parse(form, text)
		if err != nil {
			continue
		}
		d := DateOf(t)
		if len(text) < len("2006-01-02") {
			d.Day = 0
		}
		if len(text) < len("2006-01") {
			d.Month = 0
		}
		return NewDate(d.Year, d.Month, d.Day)
	}
	return Date{}, fmt.Errorf("geo: %q is not an ISO 8601 date (such as 2004-03-21)", text)
}

// String writes the date in ISO 8601 at its own precision; the zero date is empty.
func (d Date) String() string {
	switch {
	case d.Year == 0:
		return ""
	case d.Month == 0:
		return fmt.Sprintf("%04d", d.Year)
	case d.Day == 0:
		return fmt.Sprintf("%04d-%02d", d.Year, d.Month)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// Compare orders dates by time; a date known less precisely comes before the days it may
// stand for, and no date before all.
func (d Date) Compare(other Date) int {
	return cmp.Or(cmp.Compare(d.Year, other.Year), cmp.Compare(d.Month, other.Month), cmp.Compare(d.Day, other.Day))
}

// YearDay returns the day of the year, 1 to 366, and whether at least the month is
// known; a date known to the month stands at its middle.
func (d Date) YearDay() (int, bool) {
	if d.Year == 0 || d.Month == 0 {
		return 0, false
	}
	day := d.Day
	if day == 0 {
		day = 15
	}
	return time.Date(d.Year, time.Month(d.Month), day, 0, 0, 0, 0, time.UTC).YearDay(), true
}

// MarshalText writes the date in ISO 8601.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads an ISO 8601 date of any precision; empty is no date.
func (d *Date) UnmarshalText(text []byte) (err error) {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	*d, err = ParseDate(string(text))
	return err
}
