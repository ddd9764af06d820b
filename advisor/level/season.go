package level

import (
	"math"
	"time"
)

// Season is what is known of the yearly rise and fall.
type Season struct {
	RangeM   float64    `json:"rangeM"`   // full yearly range where the water is deep, metres
	RangeSDM float64    `json:"rangeSdM"` // its standard deviation
	YearSDM  float64    `json:"yearSdM"`  // spread of the low from year to year, metres
	Low      time.Month `json:"low"`      // month of the low
}

// DefaultSeason is the stated default for a latitude: the low falls at the end of the dry
// season, in May north of the equator and in November south of it.
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
	return s
}

// rise returns g, the share of the yearly range by which the water stands above its low in
// the middle of a month, and the variance of that share.
//
// The shape is one harmonic with its trough at Low; the trough is known to about a month,
// so that the share is uncertain where the curve is steep.
func (s Season) rise(month time.Month) (g, variance float64) {
	phase := 2 * math.Pi * float64((int(month)-int(s.Low)+12)%12) / 12
	g = (1 - math.Cos(phase)) / 2
	const monthSD = 2 * math.Pi / 12
	slope := math.Sin(phase) / 2 * monthSD
	return g, slope*slope + 0.0025 // and 0.05 of shape error everywhere
}

// unknownRise is the same when the month is not known: the mean and variance of a
// harmonic over the year.
func unknownRise() (g, variance float64) { return 0.5, 0.125 }

// rangeAt returns the yearly range where the low stands at y metres: water near the
// surface has no room to rise by the full range.
func (s Season) rangeAt(y float64) float64 {
	if y <= 0 {
		return 0
	}
	return s.RangeM * (1 - math.Exp(-y/s.RangeM))
}

// toLow carries a level read in a month (0 when not known) with a reading error to the
// dry-season low and returns it with its variance, metres and metres squared.
//
// Near the surface a small step of the reading is a long step of the low. The error is
// therefore the step of the low itself where the reading is deeper by one standard
// deviation; a slope would be infinite for water at the surface at the high.
func (s Season) toLow(depthM float64, month time.Month, readingVar float64) (y, variance float64) {
	g, gVar := unknownRise()
	if month != 0 {
		g, gVar = s.rise(month)
	}
	y = s.lowUnder(depthM, g)
	relative := 0.0
	if s.RangeM > 0 {
		relative = s.RangeSDM / s.RangeM
	}
	full := s.rangeAt(y)
	sd := math.Sqrt(readingVar + full*full*(gVar+g*g*relative*relative))
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
