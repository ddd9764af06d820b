package hydraulics

import "math"

// Theis returns the drawdown at a distance from a well pumped at a constant rate,
//
//		s = Q/(4πT) W(u),  u = r²S/(4Tt).
//
//	  - Units: m³/d, m, d; result in m.
//	  - Domain: every input finite and above 0; confined ground without boundaries, a well
//	    open over its whole thickness and with little water of its own.
//	  - Errors: [InputError]; [ErrNoAnswer] where the numbers leave the range of a float.
//	  - Source: Theis (1935).
//	  - Checked by: TestTheisAgainstReference, TestTheisLaws, ExampleTheis.
func Theis(a Aquifer, dischargeM3D, rM, days float64) (float64, error) {
	if err := a.check(dischargeM3D, rM, days); err != nil {
		return 0, err
	}
	return finite(a.theis(dischargeM3D, rM, days))
}

// theis is [Theis] of numbers already checked.
func (a Aquifer) theis(dischargeM3D, rM, days float64) float64 {
	u := a.u(rM, days)
	if math.IsInf(u, 0) {
		return 0
	}
	return dischargeM3D / (4 * math.Pi * a.TM2D) * wellFunction(u)
}

// Rate is a discharge that begins at a time and holds until the next.
type Rate struct {
	FromDays     float64
	DischargeM3D float64 // 0 when the pump stands still
}

// TheisRates returns the drawdown at a time under changing rates, the sum of what each
// change of rate alone would do.
//
//   - Shapes: at least one rate, in order of time; rates that begin later than days are
//     not yet felt.
//   - Units: as [Theis].
//   - Domain: as [Theis]; rates not below 0.
//   - Errors: [InputError], [ErrTooFew] without a rate, [ErrNoAnswer].
//   - Source: superposition; Theis (1935).
//   - Checked by: TestSuperposition.
func TheisRates(a Aquifer, rates []Rate, rM, days float64) (float64, error) {
	if len(rates) == 0 {
		return 0, ErrTooFew
	}
	if err := a.check(1, rM, days); err != nil {
		return 0, err
	}
	if err := checkRates(rates); err != nil {
		return 0, err
	}
	sum, before := 0.0, 0.0
	for _, r := range rates {
		if r.FromDays < days {
			sum += a.theis(r.DischargeM3D-before, rM, days-r.FromDays)
		}
		before = r.DischargeM3D
	}
	return finite(sum)
}
