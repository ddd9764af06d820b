package hydraulics

import "math"

// Duty is what is asked of a well, and the few numbers of the well itself.
type Duty struct {
	DischargeM3D float64 // m³/d while pumping
	Days         float64 // length of pumping, days
	Storage      float64 // storage coefficient or specific yield, dimensionless
	RadiusM      float64 // radius of the hole
	Efficiency   float64 // share of the drawdown that the ground itself causes, in (0,1]
}

// HandPump is the usual duty of a hand-pumped well: 0.25 L/s for 8 hours in a hole of
// the given diameter.
//
// Source: rate and hours from the project's design; storage 0.05 between a confined
// sand and a drained one, and 75 % efficiency, are common practice, no source.
func HandPump(holeMM float64) Duty {
	return Duty{DischargeM3D: 0.25 * 86.4, Days: 8.0 / 24, Storage: 0.05, RadiusM: holeMM / 2000, Efficiency: 0.75}
}

// Drawdown returns the fall of the water in the pumped well,
//
//	s = Q / (4π T) · ln(2.25 T t / (r² S)) / (efficiency · penetration),
//
// where penetration is the Kozeny factor of a screen that opens only part of the layer.
//
//   - Units: tM2D in m²/d, result in metres; screenM is the length of the screen and
//     layerM the thickness of the layer it stands in, metres.
//   - Domain: all positive, screenM <= layerM; u = r²S/4Tt under 0.05 in every duty of
//     a hand pump; where it is not, the logarithm is floored at that of u = 0.05. The
//     ground stays full: for a water table see [WaterTableDrawdown].
//   - Errors: [InputError], [ErrNoAnswer] where the numbers leave the range of a float.
//   - Source: Cooper and Jacob (1946); Kozeny (1933) for partial penetration.
//   - Checked by: TestDrawdownSlopePerCycle, TestDrawdownLaws, TestDrawdownRefusesNonsense,
//     ExampleDrawdown.
func Drawdown(d Duty, tM2D, screenM, layerM float64) (float64, error) {
	if err := positive(named{"transmissivity", tM2D}, named{"discharge", d.DischargeM3D}, named{"days", d.Days}, named{"storage", d.Storage},
		named{"radius", d.RadiusM}, named{"efficiency", d.Efficiency}, named{"screen", screenM}, named{"layer", layerM}); err != nil {
		return 0, err
	}
	argument := max(2.25*tM2D*d.Days/(d.RadiusM*d.RadiusM*d.Storage), 2.25/(4*0.05))
	ideal := d.DischargeM3D / (4 * math.Pi * tM2D) * math.Log(argument)
	return finite(ideal / d.Efficiency / Penetration(screenM, layerM, d.RadiusM))
}

// Penetration returns the share of a fully screened well's discharge that a screen of
// length L in a layer of thickness b gives at equal drawdown,
//
//	(L/b) (1 + 7 √(r/2L) cos(πL/2b)),
//
// and at most 1.
//
//   - Units: metres; result dimensionless, in [0,1].
//   - Domain: steady flow in confined ground; a screen longer than the layer counts as
//     full, one of no length gives 0.
//   - Errors: none: what is no length gives 0.
//   - Source: Kozeny (1933), from memory.
//   - Checked by: TestPenetrationIsAShare.
func Penetration(screenM, layerM, radiusM float64) float64 {
	switch {
	case !(screenM > 0):
		return 0
	case !(screenM < layerM):
		return 1
	case !(radiusM > 0):
		return screenM / layerM
	}
	p := screenM / layerM
	return min(1, p*(1+7*math.Sqrt(radiusM/(2*screenM))*math.Cos(math.Pi*p/2)))
}

// NeededT returns the least transmissivity at which the duty draws the water down by no
// more than limitM with the layer fully screened.
//
//   - Units: limitM in metres, result in m²/d.
//   - Domain: limitM above 0, for ground that stays full: where the water may fall into
//     the screened layer, as below any water table, the limit is that of [Usable].
//   - Errors: [InputError].
//   - Cost: a bisection over ten decades, to a relative 1e-6.
//   - Source: Cooper and Jacob (1946), solved for T.
//   - Checked by: TestNeededTAgainstFixedPoint.
func NeededT(d Duty, limitM float64) (float64, error) {
	if err := positive(named{"limit", limitM}); err != nil {
		return 0, err
	}
	lo, hi := 1e-5, 1e5
	for hi/lo > 1+1e-6 {
		mid := math.Sqrt(lo * hi)
		s, err := Drawdown(d, mid, 1, 1)
		if err != nil {
			return 0, err
		}
		if s > limitM {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, nil
}
