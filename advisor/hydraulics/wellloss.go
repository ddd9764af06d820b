package hydraulics

// Drawdown returns what a discharge would draw the well down.
//
//   - Units: m³/d; result in m.
//   - Domain: discharges near those of the steps, above 0.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Source: Jacob (1947).
//   - Checked by: TestFitStepsClark.
func (f StepFit) Drawdown(dischargeM3D float64) (float64, error) {
	if err := positive(named{"discharge", dischargeM3D}); err != nil {
		return 0, err
	}
	return finite(f.drawdown(dischargeM3D))
}

// Efficiency returns the share of the drawdown that the ground causes, B Q/s.
//
//   - Units: m³/d; result in (0,1], 1 where no loss was found.
//   - Domain: discharges near those of the steps, above 0.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Source: Jacob (1947); Walton (1962).
//   - Checked by: TestFitStepsClark.
func (f StepFit) Efficiency(dischargeM3D float64) (float64, error) {
	s, err := f.Drawdown(dischargeM3D)
	if err != nil {
		return 0, err
	}
	if f.C <= 0 {
		return 1, nil
	}
	return finite(f.B.Value * dischargeM3D / s)
}

// Condition is how a well stands by its loss.
type Condition string

// The conditions.
const (
	WellGood     Condition = "good"     // properly designed and developed
	WellMild     Condition = "mild"     // mild clogging
	WellClogged  Condition = "clogged"  // clogging or deterioration is severe
	WellSevere   Condition = "severe"   // hard to restore
	WellClearing Condition = "clearing" // losses fell while pumped: develop further, test again
)

// Condition grades a loss by the square of the discharge: C in min²/m⁵ under 0.5 good, to
// 1 mild, to 4 clogged, beyond severe.
//
//   - Units: none taken; C is turned from d²/m⁵.
//   - Domain: fits of power 2; the grades were made for high discharges.
//   - Errors: [InputError] for another power.
//   - Source: Walton (1962), from memory.
//   - Checked by: TestConditionGrades.
func (f StepFit) Condition() (Condition, error) {
	if f.Power != 2 {
		return "", &InputError{"power", f.Power, "2, the only one that the grades were made for"}
	}
	switch c := f.C * minutesPerDay * minutesPerDay; {
	case c < 0 && f.C < -2*f.CErr:
		return WellClearing, nil
	case c < 0.5:
		return WellGood, nil
	case c < 1:
		return WellMild, nil
	case c < 4:
		return WellClogged, nil
	}
	return WellSevere, nil
}
