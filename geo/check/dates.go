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
	{Year: 2000, Month: 1, Day: 1},
}

// openDays is how long before its completion a hole may have had its level read, and how
// long after it the season has hardly changed.
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
		if j.beforeHole(on) {
			j.say(LevelBeforeHole, day("day", on))
		}
	}
	j.samples(today)
}

// beforeHole reports a day on which the hole was surely not open yet.
func (j *judge) beforeHole(on geo.Date) bool {
	return surelyBefore(on, j.Started.Or(geo.Date{}), 0) || surelyBefore(on, j.Completed.Or(geo.Date{}), openDays)
}

// samples judges the days of samples and tests; the first that is wrong stands for all.
func (j *judge) samples(today geo.Date) {
	var days []geo.Date
	for _, s := range j.Samples {
		days = append(days, s.On.Or(geo.Date{}))
	}
	for _, t := range j.Tests {
		days = append(days, t.On.Or(geo.Date{}))
	}
	for _, on := range days {
		switch {
		case j.beforeHole(on):
			j.say(SampleBeforeHole, day("day", on))
			return
		case surelyBefore(today, on, 0):
			j.say(DateInFuture, day("day", on))
			return
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
