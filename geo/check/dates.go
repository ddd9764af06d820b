package check

import (
	"slices"
	"time"

	"waterstrike/geo"
)

// placeholders are days that programs write where no date is known: the first days of
// spreadsheets and of computer clocks (common practice, no source).
var placeholders = []geo.Date{
	{Year: 1899, Month: 12, Day: 30},
	{Year: 1899, Month: 12, Day: 31},
	{Year: 1900, Month: 1, Day: 1},
	{Year: 1901, Month: 1, Day: 1},
	{Year: 1904, Month: 1, Day: 1},
	{Year: 1970, Month: 1, Day: 1},
	{Year: 1980, Month: 1, Day: 1},
	{Year: 1980, Month: 1, Day: 6},
}

// openDays is how long before its completion a hole may have had its level read, where
// nobody wrote when it was begun.
const openDays = 60

// dates judges the days of the work against each other and today.
func (j *judge) dates(today geo.Date) {
	started, begun := j.Started.Get()
	completed, done := j.Completed.Get()
	if begun && done && surelyBefore(completed, started, 0) {
		j.say(EndBeforeStart, day("value", started), day("day", completed))
	}
	j.oneDate(started, today)
	if completed != started {
		j.oneDate(completed, today)
	}
	for _, l := range j.Levels {
		on := l.On.Or(geo.Date{})
		if on != started && on != completed {
			j.oneDate(on, today)
		}
		if begun && surelyBefore(on, started, 0) || !begun && surelyBefore(on, completed, openDays) {
			j.say(LevelBeforeHole, day("day", on))
		}
	}
}

func (j *judge) oneDate(d, today geo.Date) {
	switch {
	case slices.Contains(placeholders, d):
		j.say(DatePlaceholder, day("day", d))
	case surelyBefore(today, d, 0):
		j.say(DateInFuture, day("day", d))
	}
}

func day(name string, d geo.Date) geo.Arg { return geo.With(name, geo.Text(d.String())) }

// surelyBefore reports that a lies more than some days before b, whatever days they may
// stand for; never where one of them is no date.
func surelyBefore(a, b geo.Date, days int) bool {
	return a.Year != 0 && b.Year != 0 && last(a).AddDate(0, 0, days).Before(first(b))
}

// first and last are the ends of the time that a date may stand for.
func first(d geo.Date) time.Time {
	return time.Date(d.Year, time.Month(max(d.Month, 1)), max(d.Day, 1), 0, 0, 0, 0, time.UTC)
}

func last(d geo.Date) time.Time {
	switch {
	case d.Month == 0:
		return time.Date(d.Year, time.December, 31, 0, 0, 0, 0, time.UTC)
	case d.Day == 0:
		return first(d).AddDate(0, 1, -1)
	}
	return first(d)
}
