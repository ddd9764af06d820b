package hydraulics

import "math"

// Thiem returns the transmissivity that explains two steady drawdowns,
//
//	T = Q ln(r₂/r₁) / (2π (s₁ - s₂)).
//
// The nearer place has the greater drawdown, in either order.
//
//   - Units: m³/d, m; result in m²/d.
//   - Domain: confined ground, steady flow: both drawdowns fall alike. Distances differ.
//   - Errors: [InputError]; [ErrNoAnswer] when the farther place is drawn down as much.
//   - Source: Thiem (1906), from memory of any textbook.
//   - Checked by: TestThiemOudeKorendijk, TestThiemAgainstReference, ExampleThiem.
func Thiem(dischargeM3D float64, a, b Place) (float64, error) {
	if err := positive(named{"discharge", dischargeM3D}, named{"distance", a.DistanceM}, named{"distance", b.DistanceM}); err != nil {
		return 0, err
	}
	t := dischargeM3D * math.Log(b.DistanceM/a.DistanceM) / (2 * math.Pi * (a.DrawdownM - b.DrawdownM))
	if !(t > 0) {
		return 0, ErrNoAnswer
	}
	return finite(t)
}

// SteadyDrop returns the difference of steady drawdown between two distances, Thiem's
// formula turned round.
//
//   - Units: m³/d, m²/d, m; result in m, above 0 when the first distance is the nearer.
//   - Domain: as [Thiem].
//   - Errors: [InputError], [ErrNoAnswer] where the numbers leave the range of a float.
//   - Source: Thiem (1906), from memory.
//   - Checked by: TestSteadyDropTurnsThiemRound.
func SteadyDrop(dischargeM3D, tM2D, nearM, farM float64) (float64, error) {
	if err := positive(named{"discharge", dischargeM3D}, named{"transmissivity", tM2D}, named{"distance", nearM}, named{"distance", farM}); err != nil {
		return 0, err
	}
	return finite(dischargeM3D * math.Log(farM/nearM) / (2 * math.Pi * tM2D))
}
