package level

import (
	"math"
	"time"
)

// Season is what is known of the yearly rise and fall.
type Season struct {
	RangeM     float64     `json:"rangeM"`     // full yearly range where the water is deep, metres
	RangeSDM   float64     `json:"rangeSdM"`   // its standard deviation from place to place and from not knowing it
	YearSDM    float64     `json:"yearSdM"`    // spread of the low from year to year, metres
	NoiseSDM   float64     `json:"noiseSdM"`   // spread of readings about this course where the water is deep, beyond the tape, metres
	Low        time.Month  `json:"low"`        // month of the low
	Rise       [12]float64 `json:"rise"`       // share of the range above the low in the middle of each month, January first
	RiseVar    [12]float64 `json:"riseVar"`    // variance of that share
	Identified bool        `json:"identified"` // learnt from readings of different months
	Given      bool        `json:"given"`      // set by the programme: not to be learnt
}

// DefaultSeason is the stated default for a latitude: the low falls at the end of the dry
// season, in May north of the equator and in November south of it. The shape is one
// harmonic with its trough at the low; the trough is known to about a month, so that the
// share is uncertain where the curve is steep.
//
//   - Units: metres; latitude in degrees.
//   - Source: range 2.5 m with a wide error, weathered basement 1-5 m (Wright 1992, from
//     memory); months and the year-to-year spread of a quarter of the range are common
//     practice, no source.
func DefaultSeason(latDeg float64) Season {
	s := Season{RangeM: 2.5, RangeSDM: 1.25, YearSDM: 0.6, Low: time.May}
	if latDeg < 0 {
		s.Low = time.November
	}
	const monthSD = 2 * math.Pi / 12
	for i := range s.Rise {
		phase := 2 * math.Pi * float64((i+1-int(s.Low)+12)%12) / 12
		slope := math.Sin(phase) / 2 * monthSD
		s.Rise[i] = (1 - math.Cos(phase)) / 2
		s.RiseVar[i] = slope*slope + shapeVar
	}
	return s
}

// shapeVar is the variance of a share of the range that every month has: the shape is not
// the same everywhere. Common practice, no source.
const shapeVar = 0.05 * 0.05

// rise returns the share of the yearly range by which the water stands above its low in
// the middle of a month, 0 when it is not known, and the variance of that share.
func (s Season) rise(month time.Month) (g, variance float64) {
	if month != 0 {
		return s.Rise[month-1], s.RiseVar[month-1]
	}
	square := 0.0
	for i, r := range s.Rise {
		g += r / 12
		square += r * r / 12
		variance += s.RiseVar[i] / 12
	}
	return g, variance + square - g*g
}

// share returns how much of the full range water has where its low stands at y metres:
// water near the surface has no room to rise.
func (s Season) share(y float64) float64 {
	if y <= 0 || !(s.RangeM > 0) {
		return 0
	}
	return 1 - math.Exp(-y/s.RangeM)
}

// rangeAt returns the yearly range where the low stands at y metres.
func (s Season) rangeAt(y float64) float64 { return s.RangeM * s.share(y) }

// toLow carries a level read in a month (0 when not known) with a reading error to the
// dry-season low and returns it with its variance, metres and metres squared.
//
// Near the surface a small step of the reading is a long step of the low. The error is
// therefore the step of the low itself where the reading is deeper by one standard
// deviation; a slope would be infinite for water at the surface at the high.
func (s Season) toLow(depthM float64, month time.Month, readingVar float64) (y, variance float64) {
	g, gVar := s.rise(month)
	y = s.lowUnder(depthM, g)
	share := s.share(y)
	full := s.RangeM * share
	course := full*full*gVar + share*share*(g*g*s.RangeSDM*s.RangeSDM+s.NoiseSDM*s.NoiseSDM)
	sd := math.Sqrt(readingVar + course)
	step := s.lowUnder(depthM+sd, g) - y
	return y, step * step
}

// lowUnder solves y - g A(y) = depthM for the low y, by Newton's steps from its deep
// side: the left side is convex, so that they never pass the root.
func (s Season) lowUnder(depthM, g float64) float64 {
	if depthM <= 0 || !(s.RangeM > 0) {
		return depthM
	}
	y := depthM + g*s.RangeM
	for range 60 {
		step := (y - g*s.rangeAt(y) - depthM) / (1 - g*math.Exp(-y/s.RangeM))
		y -= step
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return y
}
