package welldesign

import (
	"math"

	"waterstrike/advisor/method"
	"waterstrike/geo"
)

// Dose is how a well is disinfected.
type Dose struct {
	WaterL    float64 `json:"waterL"` // in pipe and pack
	MgL       float64 `json:"mgL"`
	Chlorine  float64 `json:"chlorineG"` // free
	Grams     float64 `json:"grams"`     // of the product
	HoldHours float64 `json:"holdHours"`
}

// ProductG returns how much of a chlorine product makes a dose,
//
//		g = V · mg/L / (1000 · share).
//
//	  - Units: litres, mg/L, share of available chlorine in (0,1]; grams.
//	  - Domain: all above 0.
//	  - Source: arithmetic. 1 m³ at 100 mg/L takes 140 g of a 70 % product (UNHCR 1997).
//	  - Checked by: TestChlorineDose.
func ProductG(waterL, mgL, share float64) float64 { return waterL * mgL / (1000 * share) }

// PipeL returns the water in a pipe.
//
//   - Units: inside diameter in mm, length in m; litres.
//   - Domain: not below 0.
//   - Source: geometry.
//   - Checked by: TestChlorineDose.
func PipeL(insideMM, lengthM float64) float64 {
	return math.Pi / 4 * insideMM * insideMM / 1000 * max(0, lengthM)
}

// Dose returns the dose of a design, its water standing at the wettest that it was told of:
// none, so that the pipe is taken as full from the ground down. Three times its water allow
// for the pack.
func (r *Rules) Dose(w Well) Dose {
	d := Dose{MgL: r.Chlorine.Dose.Value(), HoldHours: r.Chlorine.Hold.Value}
	d.WaterL = PipeL(w.Casing.InsideMM, w.BottomM) * r.Chlorine.Pack.Value
	d.Chlorine = d.WaterL * d.MgL / 1000
	d.Grams = ProductG(d.WaterL, d.MgL, r.Chlorine.Share.Value)
	return d
}

// Disinfection tells how the dose of a design that fits is given, with a warning where the method thickens its
// water: chlorine breaks thickeners down, and the hole with them.
//
// Source: the rules' own; that oxidants thin organic thickeners is common practice, no
// source.
func (r *Rules) Disinfection(w Well, m *method.Method) []geo.Message {
	if w.Verdict != Fits {
		return nil
	}
	c, dose := r.Chlorine, r.Dose(w)
	out := []geo.Message{
		geo.Say("chlorine.clear-first", geo.With("amount", geo.Number(c.Clear.Value))),
		geo.Say("chlorine.dose", geo.With("n", geo.Count(int(math.Ceil(dose.Grams)))),
			geo.With("total", geo.Count(int(c.Share.Value*100+0.5))), geo.With("amount", geo.Number(dose.MgL))),
		geo.Say("chlorine.hold", geo.With("amount", geo.Number(dose.HoldHours))),
		geo.Say("chlorine.pump-out", geo.With("amount", geo.Number(c.UseBelow.Value))),
		geo.Say("chlorine.then-sample"),
		geo.Say("chlorine.acid-water", geo.With("amount", geo.Number(c.MostPH.Value))),
		geo.Say("chlorine.soak-pack", geo.With("amount", geo.Number(c.PackSoak.Value))),
	}
	if m.Fluid && !m.Thickener {
		out = append(out, geo.Say("chlorine.drill-water", geo.With("amount", geo.Number(c.DrillWater.Value))))
	}
	if m.Thickener {
		out = append(out, geo.Say("chlorine.breaks-thickener"))
	}
	return append(out, geo.Say("chlorine.not-lasting"))
}
