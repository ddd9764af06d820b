package hydraulics

import "math"

// Slugged is a screen in unconfined ground.
type Slugged struct {
	Well
	ScreenM float64 // its wet length, L
	BelowM  float64 // depth of its foot below the water at rest, L_w
	ThickM  float64 // of the wet ground, H
}

// BouwerRice returns the hydraulic conductivity from the rate at which a displacement
// dies,
//
//	K = r² ln(R_e/R) / (2L) · rate,
//	1/ln(R_e/R) = 1.1/ln(L_w/R) + (A + B ln((H-L_w)/R)) R/L,
//
// and for a screen to the base of the ground, L_w = H, 1.1/ln(L_w/R) + C R/L.
//
//   - Units: m, rate in 1/d; result in m/d.
//   - Domain: ScreenM 4 to 1500 radii of the hole, ScreenM <= BelowM <= ThickM. The inner
//     logarithm is cut at 6, as its authors do.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Source: Bouwer and Rice (1976); A, B and C by the polynomials of Van Rooy (1988), as
//     in Butler (1998), in place of a chart.
//   - Checked by: TestBouwerRiceSaltRiver, TestBouwerRiceLaws.
func BouwerRice(s Slugged, ratePerDay float64) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := positive(named{"rate", ratePerDay}); err != nil {
		return 0, err
	}
	log := s.logRadius()
	if !(log > 0) {
		return 0, ErrNoAnswer
	}
	return finite(s.OpenRadiusM * s.OpenRadiusM * log / (2 * s.ScreenM) * ratePerDay)
}

func (s Slugged) check() error {
	if err := s.Well.check(); err != nil {
		return err
	}
	if err := positive(named{"screen", s.ScreenM}, named{"depth of its foot", s.BelowM}, named{"thickness", s.ThickM}); err != nil {
		return err
	}
	if s.ScreenM > s.BelowM || s.BelowM > s.ThickM {
		return &InputError{"depth of the screen's foot", s.BelowM, "from the screen's length to the ground's thickness"}
	}
	if slender := s.ScreenM / s.RadiusM; slender < 4 || slender > 1500 {
		return &InputError{"screen over radius", slender, "4 to 1500"}
	}
	return nil
}

// logRadius is ln(R_e/R).
func (s Slugged) logRadius() float64 {
	x := s.ScreenM / s.RadiusM
	part := vanRooyC(x)
	if s.BelowM < s.ThickM {
		part = vanRooyA(x) + vanRooyB(x)*min(6, math.Log((s.ThickM-s.BelowM)/s.RadiusM))
	}
	return 1 / (1.1/math.Log(s.BelowM/s.RadiusM) + part/x)
}

func vanRooyA(x float64) float64 {
	return horner(x, 1.4720, 3.537e-2, -8.148e-5, 1.028e-7, -6.484e-11, 1.573e-14)
}

func vanRooyB(x float64) float64 {
	return horner(x, 0.2372, 5.151e-3, -2.682e-6, -3.491e-10, 4.738e-13)
}

func vanRooyC(x float64) float64 {
	return horner(x, 0.7920, 3.993e-2, -5.743e-5, 3.858e-8, -9.659e-12)
}

// horner is the polynomial with these coefficients, the constant first.
func horner(x float64, coefficients ...float64) float64 {
	sum := 0.0
	for i := len(coefficients) - 1; i >= 0; i-- {
		sum = sum*x + coefficients[i]
	}
	return sum
}
