package demoland

import (
	"math"
	"math/rand/v2"
	"time"
)

// yearDays is the mean length of a year.
const yearDays = 365.25

// Season is the shape of the year at a date: 0 at the dry-season low, 1 at the peak. It
// rises smoothly from the first rains and falls as an exponential recession (Butterworth
// et al. 1999 for the form; time constants from memory).
func (l *Land) Season(on time.Time) float64 {
	return l.seasonAt(math.Mod(float64(on.YearDay())-l.onsetDay+2*yearDays, yearDays))
}

func (l *Land) seasonAt(sinceOnset float64) float64 {
	if sinceOnset < l.riseDays {
		return ramp(sinceOnset, 0, l.riseDays)
	}
	last := math.Exp(-(yearDays - l.riseDays) / l.recessDays)
	return (math.Exp(-(sinceOnset-l.riseDays)/l.recessDays) - last) / (1 - last)
}

// LowDay is the day of the year on which water stands lowest.
func (l *Land) LowDay() int { return int(l.onsetDay) }

// YearEffect is how much deeper than in a normal year water stands at a date, in metres:
// a first-order autoregression over water years, passing from one to the next while
// water rises.
func (l *Land) YearEffect(on time.Time) float64 {
	since := float64(on.YearDay()) - l.onsetDay
	year := on.Year()
	if since < 0 {
		since += yearDays
		year--
	}
	return mix(l.waterYear(year-1), l.waterYear(year), ramp(since, 0, l.riseDays))
}

// waterYear is the effect of the water year that begins in a calendar year, written as a
// sum over the years before it so that every year can be had on its own.
func (l *Land) waterYear(year int) float64 {
	sum, weight := 0.0, math.Sqrt(1-l.yearMemory*l.yearMemory)
	for back := range 40 { // the memory is at most 0.7: what is left out is below 1e-6
		shock := rand.New(rand.NewPCG(l.seed, uint64(year-back)+7_000_000)).NormFloat64()
		sum += weight * shock
		weight *= l.yearMemory
	}
	return l.yearSDM * sum
}

// tenYear is the standard normal quantile of 0.9: the 1-in-10-year low.
const tenYear = 1.2815515655446004
