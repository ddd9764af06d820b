package hydraulics

import "math"

// Dupuit returns the hydraulic conductivity that explains two steady heights of the water
// table above the base of the ground,
//
//	K = Q ln(r₂/r₁) / (π (h₂² - h₁²)).
//
// The nearer place has the lower water table.
//
//   - Units: m³/d, m; thickM is the thickness of water at rest; result in m/d.
//   - Domain: unconfined ground, steady flow, drawdowns small against the thickness and
//     never beyond it.
//   - Errors: [InputError], [ErrNoAnswer] when the farther place is drawn down as much.
//   - Source: Dupuit (1863), from memory of any textbook.
//   - Checked by: TestDupuitTodd, TestDupuitAgainstReference, TestDupuitIsThiemWithJacob.
func Dupuit(dischargeM3D, thickM float64, a, b Place) (float64, error) {
	heightA, heightB := thickM-a.DrawdownM, thickM-b.DrawdownM
	if err := positive(named{"discharge", dischargeM3D}, named{"thickness", thickM}, named{"distance", a.DistanceM},
		named{"distance", b.DistanceM}, named{"height", heightA}, named{"height", heightB}); err != nil {
		return 0, err
	}
	k := dischargeM3D * math.Log(b.DistanceM/a.DistanceM) / (math.Pi * (heightB*heightB - heightA*heightA))
	if !(k > 0) {
		return 0, ErrNoAnswer
	}
	return finite(k)
}
