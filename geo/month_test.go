package geo_test

import (
	"encoding/json"
	"slices"
	"testing"
	"time"

	"waterstrike/geo"
)

func TestMonthSet(t *testing.T) {
	given := []time.Month{time.December, time.March, time.March, time.January}
	s := geo.Months(given...)
	if want := []time.Month{time.January, time.March, time.December}; !slices.Equal(s.List(), want) {
		t.Errorf("list %v, want %v", s.List(), want)
	}
	for m := time.January; m <= time.December; m++ {
		if s.Has(m) != slices.Contains(given, m) {
			t.Errorf("has %v: %v", m, s.Has(m))
		}
	}
	all := geo.Months(s.List()...) | geo.Months(2, 4, 5, 6, 7, 8, 9, 10, 11)
	if len(all.List()) != 12 {
		t.Errorf("a year of %d months", len(all.List()))
	}
}

// Month 0 is how a date without a month is written; it must be in no set.
func TestMonthSetNoMonth(t *testing.T) {
	for _, m := range []time.Month{-1, 0, 13, 17, 64} {
		if geo.Months(m) != 0 || geo.MonthSet(0xffff).Has(m) {
			t.Errorf("month %d is in a set", int(m))
		}
	}
}

func TestMonthSetJSON(t *testing.T) {
	for _, c := range []struct {
		set  geo.MonthSet
		want string
	}{
		{0, "[]"},
		{geo.Months(time.March, time.April, time.December), "[3,4,12]"},
	} {
		got, err := json.Marshal(c.set)
		if err != nil || string(got) != c.want {
			t.Errorf("%s, %v; want %s", got, err, c.want)
		}
		back := geo.MonthSet(0xff)
		if err := json.Unmarshal(got, &back); err != nil || back != c.set {
			t.Errorf("%s comes back as %v, %v", got, back.List(), err)
		}
	}
	for _, bad := range []string{"[0]", "[13]", "[1.5]", `["march"]`, "12"} {
		s := geo.Months(time.May)
		if err := json.Unmarshal([]byte(bad), &s); err == nil || s != geo.Months(time.May) {
			t.Errorf("%s: %v, %v", bad, s.List(), err)
		}
	}
}
