package hydraulics

// Recovery returns the drawdown that is left some time after the pump stopped: what
// pumping on would have made, less what an equal recharge since the stop takes back.
//
//   - Units: pumpedDays is how long the pump ran, sinceDays the time since it stopped;
//     m³/d, m; result in m.
//   - Domain: as [Theis].
//   - Errors: as [Theis].
//   - Source: Theis (1935).
//   - Checked by: TestRecoveryAgainstReference, TestRecoverySymmetric.
func Recovery(a Aquifer, dischargeM3D, rM, pumpedDays, sinceDays float64) (float64, error) {
	if err := a.check(dischargeM3D, rM, pumpedDays); err != nil {
		return 0, err
	}
	if err := positive(named{"time since the stop", sinceDays}); err != nil {
		return 0, err
	}
	return finite(a.theis(dischargeM3D, rM, pumpedDays+sinceDays) - a.theis(dischargeM3D, rM, sinceDays))
}
