package hydraulics

// loganFactor is 1.22: Thiem with log10 of the radius of influence over that of the well
// at 3.33, which is a guess.
const loganFactor = 1.22

// loganDecades makes a range of half to double at 95 %: the rule is often off by half.
const loganDecades = 0.15

// Logan returns the transmissivity by a rule of thumb from the one drawdown of a well that
// has almost come to rest,
//
//		T = 1.22 Q/s.
//
//	  - Units: m³/d, m; result in m²/d, with a range.
//	  - Domain: confined ground, near steady, no well loss; both above 0.
//	  - Errors: [InputError], [ErrNoAnswer].
//	  - Source: Logan (1964), from memory; errors of half and more, from memory of the same.
//	  - Checked by: TestLoganAtHandPumpScale.
func Logan(dischargeM3D, drawdownM float64) (Estimate, error) {
	if err := positive(named{"discharge", dischargeM3D}, named{"drawdown", drawdownM}); err != nil {
		return Estimate{}, err
	}
	return judged(loganFactor*dischargeM3D/drawdownM, loganDecades)
}
