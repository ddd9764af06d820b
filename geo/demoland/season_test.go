package demoland_test

import (
	"math"
	"testing"
	"time"
)

func day(year, yearDay int) time.Time {
	return time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, yearDay-1)
}

func TestSeasonRunsFromLowToLow(t *testing.T) {
	for _, l := range lands() {
		peak, rises, before := 0.0, 0, l.Season(day(2015, l.LowDay()))
		if before > 0.01 {
			t.Errorf("season at the low is %v", before)
		}
		for d := 1; d < 365; d++ {
			now := l.Season(day(2015, l.LowDay()+d))
			if now < 0 || now > 1 {
				t.Fatalf("season %v is not in [0, 1]", now)
			}
			if now > before {
				rises++
			}
			peak, before = max(peak, now), now
		}
		if peak < 0.99 || rises < 70 || rises > 140 {
			t.Errorf("season peaks at %v after %d days of rise", peak, rises)
		}
	}
}

// One year in ten is drier than the design low; the memory of the years widens the
// sampling error of 3,000 of them to about one point.
func TestDesignLowIsPassedOneYearInTen(t *testing.T) {
	for _, l := range lands() {
		p := l.UniformSites(1, 4)[0]
		c := l.Column(p)
		drier := 0
		const years = 3000
		for year := 2000; year < 2000+years; year++ {
			if l.Level(p, day(year, l.LowDay())) > c.DesignLowM {
				drier++
			}
		}
		if share := float64(drier) / years; math.Abs(share-0.1) > 0.025 {
			t.Errorf("%.3f of the years are drier than the 1-in-10-year low", share)
		}
	}
}

func TestLevelIsLowSeasonAndYear(t *testing.T) {
	l := lands()[1]
	for _, p := range l.UniformSites(50, 6) {
		c := l.Column(p)
		on := day(2018, l.LowDay()+200)
		want := c.NormalLowM + l.YearEffect(on) - l.Season(on)*(c.NormalLowM-c.WetHighM)
		if got := l.Level(p, on); math.Abs(got-want) > 1e-9 && got > 0.1 { // a water table stops at the ground
			t.Errorf("level %v, want %v", got, want)
		}
	}
}
