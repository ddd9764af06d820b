package level

import (
	"math"
	"time"

	"waterstrike/geo"
)

// Season is what is known of the yearly rise and fall, and of the years.
type Season struct {
	RangeM     float64     `json:"rangeM"`          // full yearly range where the water is deep, metres
	RangeSDM   float64     `json:"rangeSdM"`        // its standard deviation from place to place and from not knowing it
	YearSDM    float64     `json:"yearSdM"`         // spread of the low from year to year, metres
	NoiseSDM   float64     `json:"noiseSdM"`        // spread of readings about this course where the water is deep, beyond the tape, metres
	Low        time.Month  `json:"low"`             // month of the low
	Rise       [12]float64 `json:"rise"`            // share of the range above the low in the middle of each month, January first
	RiseVar    [12]float64 `json:"riseVar"`         // variance of that share
	Identified bool        `json:"identified"`      // learnt from readings of different months
	Given      bool        `json:"given"`           // set by the programme: not to be learnt
	Years      []Year      `json:"years,omitempty"` // one after another; none where readings do not tell them
	YearMemory float64     `json:"yearMemory"`      // likeness of a year to the one before, as a correlation; 0 without Years
	YearFull   bool        `json:"yearFull"`        // years count in full near the surface too
	NormalSDM  float64     `json:"normalSdM"`       // by how much the mean of Years may miss a normal year, metres

	riseCov [12][12]float64 // covariance of how far the water stands over its low between the middles of months, metres squared; 0 where it was not learnt
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

// timeOfYear returns how much of the year has passed, of the middle of the month where no
// day is known; ok is false without a month.
func timeOfYear(on geo.Date) (year float64, ok bool) {
	if on.Month == 0 {
		return 0, false
	}
	year = (float64(on.Month) - 0.5) / 12
	if on.Day != 0 {
		const longest = 31
		year += (float64(on.Day) - (longest+1)/2) / longest / 12
	}
	return year, true
}

// monthsOf returns how much the middle of each month counts on a day: between the two
// around it, in a month alone that one, and without a month all alike.
func monthsOf(on geo.Date) (out [12]float64) {
	year, ok := timeOfYear(on)
	switch {
	case !ok:
		for i := range out {
			out[i] = 1.0 / 12
		}
	case on.Day == 0:
		out[on.Month-1] = 1
	default:
		place := year*12 + 11.5 // middles of months after that of a January
		i := int(place)
		part := place - float64(i)
		out[i%12] += 1 - part
		out[(i+1)%12] += part
	}
	return out
}

// rise returns the share of the yearly range by which the water stands above its low on a
// day, between the middles of months, and the variance of that share. In a month it is
// that of its middle, and without a month the mean of the year.
func (s Season) rise(on geo.Date) (g, variance float64) {
	if on.Month == 0 {
		return s.anyRise()
	}
	least, most := math.Inf(1), math.Inf(-1)
	for i, part := range monthsOf(on) {
		if part > 0 {
			g += part * s.Rise[i]
			variance += part * s.RiseVar[i]
			least, most = min(least, s.Rise[i]), max(most, s.Rise[i])
		}
	}
	if on.Day == 0 {
		return g, variance
	}
	step := most - least
	return g, max(variance-step*step/12, variance/4) // the month's days are no doubt of it
}

func (s Season) anyRise() (g, variance float64) {
	mean := 0.0
	for i, r := range s.Rise {
		g += r / 12
		mean += r * r / 12
		variance += s.RiseVar[i] / 12
	}
	return g, variance + mean - g*g
}

// roomShare is how much of the way to the surface shallow water rises at most. Common
// practice, no source.
const roomShare = 0.8

// share returns how much of the full range water has where its low stands at y metres:
// water near the surface has no room to rise. The range is the smaller of the full one and
// of roomShare of the way to the surface, rounded off where the two meet.
func (s Season) share(y float64) float64 {
	if y <= 0 || !(s.RangeM > 0) {
		return 0
	}
	share, _ := saturating(roomShare * y / s.RangeM)
	return share
}

// saturating is u / (1 + u⁴)^¼, from u to 1, and its slope.
func saturating(u float64) (value, slope float64) {
	root := math.Sqrt(math.Sqrt(1 + u*u*u*u))
	value = u / root
	return value, 1 / (root * (1 + u*u*u*u))
}

// rangeAt returns the yearly range where the low stands at y metres.
func (s Season) rangeAt(y float64) float64 { return s.RangeM * s.share(y) }

// toLow carries a level read on a day with a reading error to the dry-season low of a
// normal year and returns it with its variance, metres and metres squared.
//
// Near the surface a small step of the reading is a long step of the low. The error is
// therefore the step of the low itself where the reading is deeper by one standard
// deviation; a slope would be infinite for water at the surface at the high.
func (s Season) toLow(depthM float64, on geo.Date, readingVar float64) (y, variance float64) {
	g, gVar := s.rise(on)
	deeper, yearVar := s.year(on)
	y = s.lowUnder(depthM, g, deeper)
	share, yearShare := s.share(y), s.yearShare(y)
	full := s.RangeM * share
	course := full*full*gVar + share*share*(g*g*s.RangeSDM*s.RangeSDM+s.NoiseSDM*s.NoiseSDM) + yearShare*yearShare*yearVar
	sd := math.Sqrt(readingVar + course)
	step := s.lowUnder(depthM+sd, g, deeper) - y
	return y, step * step
}

// fromLow is the level where the low of a normal year stands at y metres.
func (s Season) fromLow(y, g, deeperM float64) float64 {
	return y - g*s.rangeAt(y) + deeperM*s.yearShare(y)
}

// shallowM is how near to the surface a year carries the low that a reading below it
// states: in a dry year a level just below the ground says no more than that it is shallow.
const shallowM = 0.1

// lowUnder solves y - g A(y) + e(y) = depthM for the low y.
func (s Season) lowUnder(depthM, g, deeperM float64) float64 {
	riseM := g * s.RangeM
	if s.YearFull {
		depthM = max(depthM-deeperM, min(depthM, shallowM))
	} else {
		riseM -= deeperM
	}
	if depthM <= 0 || !(s.RangeM > 0) {
		return depthM
	}
	return lowAt(depthM, min(riseM, s.RangeM), s.RangeM)
}

// lowAt solves y - r s(y) = d for y at d > 0 and r up to the range A, s the share of it at
// y, by Newton's steps from the side on which they never pass the root.
func lowAt(d, r, a float64) float64 {
	y := max(d+r, 0)
	for range 60 {
		share, slope := saturating(roomShare * y / a)
		step := (y - r*share - d) / (1 - r/a*roomShare*slope)
		y -= step
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return y
}
