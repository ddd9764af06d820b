package hydraulics

// Aquifer is what the ground is to a pumped well.
type Aquifer struct {
	TM2D    float64 // transmissivity, m²/d
	Storage float64 // storage coefficient or specific yield, dimensionless
}

// Reading is a drawdown, or the displacement of a slug, at a time.
type Reading struct {
	Days      float64 // since the pump started; since it stopped in a recovery
	DrawdownM float64
}

// Series is what was read in one piezometer.
type Series struct {
	DistanceM float64 // from the axis of the pumped well
	Readings  []Reading
}

// Place is a drawdown at a distance from the pumped well.
type Place struct {
	DistanceM float64
	DrawdownM float64
}

// Pumping is a pumped well and where it was read.
type Pumping struct {
	DischargeM3D float64
	DistanceM    float64 // from the well's axis; the radius of the hole for the well itself
	OpenRadiusM  float64 // of the water surface that falls in the pumped well itself; 0 in a piezometer
}

// The u = r²S/4Tt below which a straight line in the logarithm of time stands for the well
// function: its error is 0.25 % of W at StrictU and 2 % at LooseU.
//
// Source: definition, recalculated from W.
const (
	StrictU = 0.01
	LooseU  = 0.05
)

// u returns r²S/4Tt.
func (a Aquifer) u(rM, days float64) float64 { return rM * rM * a.Storage / (4 * a.TM2D * days) }

// check refuses an aquifer, discharge, distance or time outside the formulas' domain.
func (a Aquifer) check(dischargeM3D, rM, days float64) error {
	return positive(named{"transmissivity", a.TM2D}, named{"storage", a.Storage},
		named{"discharge", dischargeM3D}, named{"distance", rM}, named{"time", days})
}

func (p Pumping) check() error {
	if err := positive(named{"discharge", p.DischargeM3D}, named{"distance", p.DistanceM}); err != nil {
		return err
	}
	if !(p.OpenRadiusM >= 0 && p.OpenRadiusM < maxRadiusM) {
		return &InputError{"open radius", p.OpenRadiusM, "0 in a piezometer, under 20 m in a well"}
	}
	return nil
}

// maxRadiusM is wider than any well was dug; common practice, no source.
const maxRadiusM = 20
