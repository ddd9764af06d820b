package level

import (
	"math"

	"waterstrike/geo"
)

// Reading is the statement about one reading that a person would take at the point: the
// low carried back to a day, with the errors of that step and of the tape.
type Reading struct {
	low     Distribution
	extra   float64 // variance on the scale beyond the low's own
	g       float64 // share of the yearly range that the water stands above its low
	deeperM float64 // of the year
}

// Reading states a reading on a day, as much of it as is known; vague says that it may be
// of water from an unknown depth.
//
//   - Units: variances on the scale.
//   - Source: the step of [Season] from a reading to the low, taken the other way.
func (d Distribution) Reading(on geo.Date, vague bool) Reading {
	r := Reading{low: d}
	r.low.FieldVar = max(d.FieldVar-d.shared, 0) // another reading errs by it too
	r.g, _ = d.season.rise(on)
	r.deeperM, _ = d.season.year(on)
	o := Observation{DepthM: r.at(d.Low(0.5)), On: on, Vague: vague}
	_, r.extra = o.onScale(d.scale, d.season)
	return r
}

// at carries a low to the day of the reading.
func (r Reading) at(lowM float64) float64 { return r.low.season.fromLow(lowM, r.g, r.deeperM) }

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
	low := r.low.season.lowUnder(depthM, r.g, r.deeperM)
	sd := math.Sqrt(r.low.FieldVar + r.low.MicroVar + r.extra)
	return math.Erfc((r.low.scale.z(low)-r.low.Mean)/sd/math.Sqrt2) / 2
}
