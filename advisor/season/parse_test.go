package season_test

import (
	"strings"
	"testing"

	"waterstrike/advisor/season"
	"waterstrike/geo"
)

// Sums as three languages write them; what one reads a thousand times as large as another is
// refused.
func TestParseAmount(t *testing.T) {
	for text, want := range map[string]float64{"8000": 8000, "8 000": 8000, "8\u202f000": 8000, " 12.5 ": 12.5, "12,50": 12.5, "0": 0, "-3": -3} {
		if got, err := season.ParseAmount("budget", text); err != nil || got != want {
			t.Errorf("%q: %g, %v, want %g", text, got, err, want)
		}
	}
	for text, says := range map[string]string{
		"8,000": "season.two-numbers value=8,000 field=budget now=8000", "8.000": "season.two-numbers", "1.234.567": "season.two-numbers", "eight": "season.bad-number",
		"": "season.bad-number", "NaN": "season.bad-number", "1e400": "season.bad-number", "Inf": "season.bad-number", "1,5,2": "season.bad-number",
	} {
		if _, err := season.ParseAmount("budget", text); geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %s", text, err, says)
		}
	}
}

func TestParseWindowsAndFloors(t *testing.T) {
	if w, err := season.ParseWindows("12,5"); err != nil || len(w) != 1 || w[0].Weeks != 12.5 {
		t.Errorf("a decimal comma: %v, %v", w, err)
	}
	if w, err := season.ParseWindows("dry = 10, late = 4.5"); err != nil || len(w) != 2 || w[1].Name != "late" || w[1].Weeks != 4.5 {
		t.Errorf("two parts: %v, %v", w, err)
	}
	for _, text := range []string{"dry=10, dry=4", "10, 4", "dry = 10,5, late = 4", "dry=10, 4"} {
		if w, err := season.ParseWindows(text); err == nil || !strings.Contains(err.Error(), "season.window-twice") {
			t.Errorf("%q: %v, %v", text, w, err)
		}
	}
	people := func(word string) bool { return word == "people" }
	f, err := season.ParseFloors("North = 2, north = 400 people, South = 1", people)
	if err != nil || len(f) != 2 || f[0].Villages != 2 || f[0].People != 400 || f[1].Villages != 1 {
		t.Errorf("villages and people: %v, %v", f, err)
	}
	if _, err := season.ParseFloors("North = 2, NORTH = 3", people); err == nil || !strings.Contains(err.Error(), "season.floor-twice") {
		t.Errorf("villages twice: %v", err)
	}
}

func TestParsePast(t *testing.T) {
	today := geo.Date{Year: 2026, Month: 5, Day: 2}
	for text, want := range map[string]geo.Date{"": today, "2024-02": {Year: 2024, Month: 2, Day: 29}, "2025": {Year: 2025, Month: 12, Day: 31}, "2026-05-02": today, "2026": today, "2026-05": today} {
		if got, err := season.ParsePast(text, today); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for text, says := range map[string]string{"2026-05-03": "season.future-day", "2040": "season.future-day", "31/10/2024": "season.bad-day"} {
		if _, err := season.ParsePast(text, today); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %s", text, err, says)
		}
	}
}
