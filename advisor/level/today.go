package level

import (
	"math"
	"time"

	"waterstrike/geo"
)

// Today returns how deep the water stands in the middle of a month of a normal year.
//
//   - Units: lowM, the low of that year, and the result in metres below ground.
//   - Domain: any low; month 0 is the middle of the year's course.
//   - Source: the course of [Season].
//   - Checked by: TestTodayFollowsTheSeason.
func (d Distribution) Today(lowM float64, month time.Month) float64 {
	g, _ := d.season.rise(geo.Date{Month: int(month)})
	return lowM - g*d.season.rangeAt(lowM)
}

// TodaySD returns what a reading in that month may differ from [Distribution.Today] by:
// the tape, the year, and what is not known of the season's course.
//
//   - Units: metres.
//   - Domain: as there; never below the error of a tape.
//   - Source: the variances of [Season].
//   - Checked by: TestTodayFollowsTheSeason.
func (d Distribution) TodaySD(lowM float64, month time.Month) float64 {
	s := d.season
	g, gVar := s.rise(geo.Date{Month: int(month)})
	share := s.share(lowM)
	course := share * share * (s.RangeM*s.RangeM*gVar + g*g*s.RangeSDM*s.RangeSDM + s.NoiseSDM*s.NoiseSDM)
	course += square(s.yearShare(lowM) * s.YearSDM)
	return math.Sqrt(readingSDM*readingSDM + course)
}
