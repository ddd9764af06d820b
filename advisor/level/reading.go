package level

import (
	"math"
	"time"
)

// Reading is the statement about one reading that a person would take at the point: the
// low carried back to a month, with the errors of that step and of the tape.
type Reading struct {
	low   Distribution
	extra float64 // variance on the log scale beyond the low's own
	g     float64 // share of the yearly range that the water stands above its low
}

// Reading states a reading in a month, 0 when it is not known; vague says that it may be
// of water from an unknown depth.
//
//   - Units: variances on the log scale.
//   - Source: the step of [Season] from a reading to the low, taken the other way.
func (d Distribution) Reading(month time.Month, vague bool) Reading {
	r := Reading{low: d}
	r.g, _ = d.season.rise(month)
	s := scale{d.ShiftM, d.vagueVar}
	o := Observation{DepthM: r.at(d.Low(0.5)), Month: month, Vague: vague}
	_, r.extra = o.onScale(s, d.season)
	return r
}

// at carries a low to the month of the reading.
func (r Reading) at(lowM float64) float64 { return lowM - r.g*r.low.season.rangeAt(lowM) }

// Quantile returns a quantile of the reading.
//
//   - Units: p a probability in (0,1); result in metres below ground.
//   - Source: as [Distribution.Low].
func (r Reading) Quantile(p float64) float64 {
	wide := r.low
	wide.MicroVar += r.extra
	return r.at(wide.Low(p))
}

// Below returns the probability that the reading is deeper than a depth.
//
//   - Units: metres below ground; a probability.
//   - Domain: any finite depth.
//   - Source: as [Distribution.Low].
func (r Reading) Below(depthM float64) float64 {
	low := r.low.season.lowUnder(depthM, r.g)
	sd := math.Sqrt(r.low.FieldVar + r.low.MicroVar + r.extra)
	z := (scale{shift: r.low.ShiftM}.z(low) - r.low.MeanLog) / sd
	return math.Erfc(z/math.Sqrt2) / 2
}
