package level

import "math"

// Distribution is the statement about the dry-season low at one point: Normal on the
// model's log scale.
type Distribution struct {
	MeanLog  float64 // mean of log(y + ShiftM)
	FieldVar float64 // variance of the mapped surface itself
	MicroVar float64 // variance that a new bore meets beyond the surface
	ShiftM   float64
	season   Season
}

// Low returns a quantile of the dry-season low of a normal year,
//
//		y_p = exp(μ + Φ⁻¹(p) σ) - c.
//
//	  - Units: p a probability in (0,1); result in metres below ground, negative when the
//	    water stands above ground.
//	  - Domain: bounded below by -ShiftM.
func (d Distribution) Low(p float64) float64 { return d.LowAt(normalQuantile(p)) }

// LowAt is [Distribution.Low] at a number of standard deviations of the new bore.
func (d Distribution) LowAt(sd float64) float64 {
	return math.Exp(d.MeanLog+sd*math.Sqrt(d.FieldVar+d.MicroVar)) - d.ShiftM
}

// LowOf returns the low for separate draws of the surface and of the new bore, both in
// standard deviations.
func (d Distribution) LowOf(field, micro float64) float64 {
	return math.Exp(d.MeanLog+field*math.Sqrt(d.FieldVar)+micro*math.Sqrt(d.MicroVar)) - d.ShiftM
}

// DesignLow returns the low that one year in ten goes below, for a low y of a normal
// year, metres.
func (d Distribution) DesignLow(y float64) float64 {
	const oneInTen = 1.2815515655446004 // Φ⁻¹(0.9)
	return y + oneInTen*d.season.YearSDM*d.season.rangeAt(y)/max(d.season.RangeM, 1e-9)
}

// WetHigh returns the level at the end of the rains of a normal year, metres.
func (d Distribution) WetHigh(y float64) float64 { return y - d.season.rangeAt(y) }

// normalQuantile is Φ⁻¹.
func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
