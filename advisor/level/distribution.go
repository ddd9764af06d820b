package level

import (
	"math"
	"time"

	"waterstrike/geo"
)

// Distribution is the statement about the dry-season low at one point: Normal on the
// model's scale.
type Distribution struct {
	Mean     float64 // on the scale
	FieldVar float64 // variance of the mapped surface itself
	MicroVar float64 // variance that a new bore meets beyond the surface
	shared   float64 // of FieldVar, what the readings around err by alike
	scale    scale
	season   Season
}

// Low returns a quantile of the dry-season low of a normal year,
//
//		y_p = z⁻¹(μ + Φ⁻¹(p) σ).
//
//	  - Units: p a probability in (0,1); result in metres below ground, negative when the
//	    water stands above ground.
//	  - Domain: bounded below by the shift of the scale above ground.
func (d Distribution) Low(p float64) float64 {
	return d.scale.depth(d.Mean + normalQuantile(p)*math.Sqrt(d.FieldVar+d.MicroVar))
}

// Within returns the probability that the dry-season low of a normal year is no deeper
// than y: the inverse of [Distribution.Low].
//
//   - Units: metres below ground; a probability.
//   - Domain: any y; 0 above the shift of the scale.
//   - Source: as [Distribution.Low].
func (d Distribution) Within(y float64) float64 {
	over := y + d.scale.shift
	if over < 0 || over == 0 && !d.scale.root {
		return 0
	}
	z := 2 * math.Sqrt(over)
	if !d.scale.root {
		z = math.Log(over)
	}
	if sd := math.Sqrt(d.FieldVar + d.MicroVar); sd > 0 {
		return math.Erfc((d.Mean-z)/sd/math.Sqrt2) / 2
	}
	if z < d.Mean {
		return 0
	}
	return 1
}

// LowOf returns the low for separate draws of the surface and of the new bore.
//
//   - Units: both draws in standard deviations; result in metres below ground.
//   - Domain: any finite draws; LowOf(0, 0) is the median.
//   - Source: as [Distribution.Low].
func (d Distribution) LowOf(field, micro float64) float64 {
	return d.scale.depth(d.Mean + field*math.Sqrt(d.FieldVar) + micro*math.Sqrt(d.MicroVar))
}

// DesignLow returns the low that one year in ten goes below.
//
//   - Units: y, the low of a normal year, and the result in metres below ground.
//   - Domain: any y; at and above the ground the low does not move, unless the readings
//     say that years count in full there.
//   - Source: a Normal year effect, its spread learnt from the years of the readings where
//     they tell it.
func (d Distribution) DesignLow(y float64) float64 {
	const oneInTen = 1.2815515655446004 // Φ⁻¹(0.9)
	return y + oneInTen*d.season.YearSDM*d.season.yearShare(y)
}

// WetHigh returns the level at the end of the rains of a normal year.
//
//   - Units: y, the low of that year, and the result in metres below ground.
//   - Domain: any y.
//   - Source: the season's range at that depth, see [Season].
func (d Distribution) WetHigh(y float64) float64 { return d.Risen(y, 1) }

// Risen returns the level where it stands above the low by a share of the yearly range.
//
//   - Units: y, the low of that year, and the result in metres below ground.
//   - Domain: any y; shares from 0 to 1.
//   - Source: as [Distribution.WetHigh].
func (d Distribution) Risen(y, share float64) float64 { return y - share*d.season.rangeAt(y) }

// Rise returns the share of the yearly range by which the water stands above its low in the
// middle of a month.
func (d Distribution) Rise(month time.Month) float64 {
	share, _ := d.season.rise(geo.Date{Month: int(month)})
	return share
}

// SeasonRangeM is the full yearly rise and fall that readings were carried by, metres.
func (d Distribution) SeasonRangeM() float64 { return d.season.RangeM }

// SeasonIdentified reports that the yearly rise and fall was learnt from readings or set
// by the programme.
func (d Distribution) SeasonIdentified() bool { return d.season.Identified || d.season.Given }

// normalQuantile is Φ⁻¹.
func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
