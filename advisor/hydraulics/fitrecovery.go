package hydraulics

import "math"

// Stopped is a well that was pumped and stopped.
type Stopped struct {
	Pumping
	PumpedDays float64 // volume taken out divided by the last discharge, where rates changed
	Storage    float64 // of the ground, assumed: it decides which readings are late
}

// FitRecovery fits a straight line to the drawdown that is left against the logarithm of
// t/t′, time since the start over time since the stop,
//
//	T = Q/(4πb).
//
// The well itself does for readings: its losses end with the pumping.
//
//   - Shapes: at least 4 readings in order of time since the stop.
//   - Units: as [Pumping]; Reading.Days is t′; T in m²/d.
//   - Domain: u = r²S/4Tt′ under [StrictU], and t′ past the time that the well's own water
//     lasts; else [LooseU] with a sign. The line should meet 0 at t/t′ = 1; where it does
//     not the fit has the sign [Displaced].
//   - Errors: as [FitCooperJacob].
//   - Cost: as [FitCooperJacob].
//   - Source: Theis (1935); recovery line from memory.
//   - Checked by: TestFitRecoveryAgainstReference, TestFitRecoveryTodd, TestFitRecoveryDisplaced.
func FitRecovery(s Stopped, readings []Reading) (Fit, error) {
	if err := s.check(); err != nil {
		return Fit{}, err
	}
	if err := positive(named{"pumped time", s.PumpedDays}, named{"storage", s.Storage}); err != nil {
		return Fit{}, err
	}
	if err := checkReadings(readings, 4); err != nil {
		return Fit{}, err
	}
	x, y := make([]float64, len(readings)), make([]float64, len(readings))
	for i, r := range readings {
		x[i], y[i] = math.Log1p(s.PumpedDays/r.Days), r.DrawdownM
	}
	d, err := s.draw(x, y, readings, s.aquiferOf)
	if err != nil {
		return Fit{}, err
	}
	f := Fit{RMSM: d.rms, Used: d.used, Signs: d.signs}
	if d.displaced(y[d.used[0]:]) {
		f.Signs = append(f.Signs, Displaced)
	}
	f.T, err = fitted(d.TM2D, d.spread(0, 1/d.b), d.dof)
	return f, err
}

// aquiferOf reads T off a line in ln(t/t′).
func (s Stopped) aquiferOf(l line) Aquifer {
	return Aquifer{s.DischargeM3D / (4 * math.Pi * l.b), s.Storage}
}

// displacedShare is how far from 0 the line may end before it is called displaced, as a
// share of the greatest reading; common practice, no source.
const displacedShare = 0.1

func (l line) displaced(y []float64) bool {
	most := 0.0
	for _, s := range y {
		most = max(most, s)
	}
	return math.Abs(l.a) > max(2*math.Sqrt(l.varA), displacedShare*most)
}
