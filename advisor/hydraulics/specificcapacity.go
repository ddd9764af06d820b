package hydraulics

import "math"

// Single is a test of which only the end is known, in the pumped well.
type Single struct {
	DischargeM3D float64
	DrawdownM    float64
	Days         float64 // pumped
	RadiusM      float64 // of the hole
	Storage      float64 // of the ground, assumed
	WellLoss     float64 // C of a step test, d²/m⁵; 0 where none is known
	ScreenM      float64 // length of screen
	LayerM       float64 // thickness of the layer that it stands in
}

func (s Single) check() error {
	if err := positive(named{"discharge", s.DischargeM3D}, named{"drawdown", s.DrawdownM}, named{"time", s.Days},
		named{"radius", s.RadiusM}, named{"storage", s.Storage}, named{"screen", s.ScreenM}, named{"layer", s.LayerM}); err != nil {
		return err
	}
	if !(s.WellLoss >= 0) || math.IsInf(s.WellLoss, 0) {
		return &InputError{"well loss", s.WellLoss, "a finite number not below 0"}
	}
	return nil
}

// singleDecades is the standard error of T from one reading in a pumped well, whose losses
// nobody measured: a range of a quarter to fourfold.
//
// Source: common practice, no source; single wells in unconfined ground read about double
// on average, Halford et al. (2006), abstract.
const singleDecades = 0.3

// SpecificCapacity returns the T that explains the drawdown of a pumped well at the end of
// pumping,
//
//	Q/s = 4πT / ln(2.25 Tt/(r²S)),
//
// after taking off the loss C Q² and what a screen in part of a layer adds.
//
//   - Units: as [Single]; T in m²/d.
//   - Domain: some hours of pumping, u at most [LooseU]; a screen longer than its layer
//     counts as full. The assumed storage a factor of ten each way changes T by about a
//     sixth, which the range holds.
//   - Errors: [InputError]; [EarlyError] when the answer has u above LooseU; [ErrNoAnswer]
//     when the loss exceeds the drawdown.
//   - Source: Cooper and Jacob (1946) solved for T, after Theis (1963); corrections as
//     Mace (2000), abstract; Kozeny (1933) by [Penetration].
//   - Checked by: TestSpecificCapacityAgainstReference, TestSpecificCapacityTurnsDrawdownRound.
func SpecificCapacity(s Single) (Estimate, error) {
	if err := s.check(); err != nil {
		return Estimate{}, err
	}
	ground := (s.DrawdownM - s.WellLoss*s.DischargeM3D*s.DischargeM3D) * Penetration(s.ScreenM, s.LayerM, s.RadiusM)
	if !(ground > 0) {
		return Estimate{}, ErrNoAnswer
	}
	least := s.RadiusM * s.RadiusM * s.Storage / (4 * LooseU * s.Days) // T at which u is LooseU
	short := func(t float64) float64 {
		return 4*math.Pi*t/math.Log(jacob*t*s.Days/(s.RadiusM*s.RadiusM*s.Storage)) - s.DischargeM3D/ground
	}
	t, ok := bisect(short, least, max(least, 1)*1e9)
	if !ok {
		return Estimate{}, &EarlyError{LooseU}
	}
	return judged(t, singleDecades)
}
