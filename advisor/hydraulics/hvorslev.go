package hydraulics

import "math"

// Hvorslev returns the hydraulic conductivity from the rate at which a displacement dies,
//
//		K = r² ln(L/R) / (2 L T₀),  T₀ = 1/rate: the time to 37 %.
//
//	  - Units: m, rate in 1/d; result in m/d.
//	  - Domain: screenM > 8 · Well.RadiusM, a screen away from top and base of the ground,
//	    no storage in it.
//	  - Errors: [InputError], [ErrNoAnswer].
//	  - Source: Hvorslev (1951), shape factor for a long screen.
//	  - Checked by: TestHvorslevFetter.
func Hvorslev(w Well, screenM, ratePerDay float64) (float64, error) {
	if err := w.check(); err != nil {
		return 0, err
	}
	if err := positive(named{"screen", screenM}, named{"rate", ratePerDay}); err != nil {
		return 0, err
	}
	if screenM <= 8*w.RadiusM {
		return 0, &InputError{"screen", screenM, "more than 8 radii of the hole"}
	}
	return finite(w.OpenRadiusM * w.OpenRadiusM * math.Log(screenM/w.RadiusM) / (2 * screenM) * ratePerDay)
}
