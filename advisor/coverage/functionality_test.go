package coverage_test

import (
	"math"
	"slices"
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
)

func day(t testing.TB, text string) geo.Date {
	t.Helper()
	d, err := geo.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func built(t testing.TB, text string) geo.Opt[geo.Date] { return geo.Some(day(t, text)) }

// Four points, worked by hand. Lengths in years: a broke, found at 3, last seen working at
// 1; b works at 4; c was found broken at 2 and mended later; d was found broken at its
// first visit at 1. Failures dated when found: at 1, 2, 3, with b censored at 4: 3/4, 2/4,
// 1/4. Dated when last seen working: c and d at 0, a at 1: 2/4, then 1/4.
func TestLastsByHand(t *testing.T) {
	visit := func(on string, works bool) coverage.Visit { return coverage.Visit{On: day(t, on), Works: works} }
	start := built(t, "2010-01-01")
	points := []coverage.Point{
		{ID: "a", Built: start, Visits: []coverage.Visit{visit("2013-01-01", false), visit("2011-01-01", true)}},
		{ID: "b", Built: start, Visits: []coverage.Visit{visit("2014-01-01", true), visit("2020-01-01", false)}},
		{ID: "c", Built: start, Visits: []coverage.Visit{visit("2012-01-01", false), visit("2013-01-01", true)}},
		{ID: "d", Built: start, Visits: []coverage.Visit{visit("2011-01-01", false)}},
		{ID: "no-day", Visits: []coverage.Visit{visit("2012-01-01", true)}},
		{ID: "no-visit", Built: start},
		{ID: "undated", Built: start, Visits: []coverage.Visit{{Works: true}}},
		{ID: "before", Built: start, Visits: []coverage.Visit{visit("2009-01-01", true)}},
	}
	f, err := coverage.Lasts(points, day(t, "2015"), 0, 1, 2, 3.5, 5)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.Records, []string{"a", "b", "c", "d"}) || !slices.Equal(f.Lacking, []string{"no-day", "no-visit", "undated", "before"}) {
		t.Errorf("records %v, lacking %v", f.Records, f.Lacking)
	}
	unknown := math.NaN()
	wants := []struct{ years, found, seen float64 }{
		{0, 1, 0.5}, {1, 0.75, 0.25}, {2, 0.5, 0.25}, {3.5, 0.25, 0.25}, {5, unknown, unknown},
	}
	survival := func(s geo.Opt[coverage.Step]) float64 {
		if step, ok := s.Get(); ok {
			return step.Survival
		}
		return unknown
	}
	same := func(a, b float64) bool { return math.Abs(a-b) < 1e-12 || math.IsNaN(a) && math.IsNaN(b) }
	for i, want := range wants {
		got := f.Horizon[i]
		if got.Years != want.years || !same(survival(got.Found), want.found) || !same(survival(got.Seen), want.seen) {
			t.Errorf("%g years: found %g, seen %g, want %g and %g", got.Years, survival(got.Found), survival(got.Seen), want.found, want.seen)
		}
	}
	_, err = coverage.Lasts(points[4:], day(t, "2015"), 1)
	refused(t, "nothing watched", err, geo.TooFewData, "coverage.no-spans")
}

// A date known to the year stands in its middle: half a year from New Year's Day.
func TestLastsWithRoughDates(t *testing.T) {
	points := []coverage.Point{{ID: "a", Built: built(t, "2010-01-01"), Visits: []coverage.Visit{{On: day(t, "2010"), Works: true}}}}
	f, err := coverage.Lasts(points, day(t, "2011"))
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Found.Steps[0].At; math.Abs(got-0.5) > 0.01 {
		t.Errorf("%g years", got)
	}
}
