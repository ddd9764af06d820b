package hydraulics

import "math"

// CooperJacob returns the drawdown at a distance from a pumped well by the straight line
// that the well function tends to,
//
//	s = Q/(4πT) ln(2.25 Tt/(r²S)),
//
// where 2.25 stands for 4e^-γ = 2.2459, so that the published slopes and intercepts fit.
//
//   - Units: m³/d, m, d; result in m.
//   - Domain: u = r²S/4Tt at most [LooseU], where W is 2 % low; under [StrictU], 0.25 %.
//   - Errors: [InputError], [EarlyError] above LooseU, [ErrNoAnswer].
//   - Source: Cooper and Jacob (1946).
//   - Checked by: TestCooperJacobAgainstReference, TestTheisTendsToCooperJacob.
func CooperJacob(a Aquifer, dischargeM3D, rM, days float64) (float64, error) {
	if err := a.check(dischargeM3D, rM, days); err != nil {
		return 0, err
	}
	u := a.u(rM, days)
	if u > LooseU {
		return 0, &EarlyError{u}
	}
	return finite(dischargeM3D / (4 * math.Pi * a.TM2D) * math.Log(jacob/(4*u)))
}

// jacob is 4e^-γ as every textbook rounds it.
const jacob = 2.25
