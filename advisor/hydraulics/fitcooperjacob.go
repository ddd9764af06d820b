package hydraulics

import (
	"math"

	"waterstrike/geo"
)

// FitCooperJacob fits a straight line to drawdown against the logarithm of time,
//
//	T = Q/(4πb),  S = 2.25 T t₀/r²,
//
// with b its slope and t₀ where it meets 0. Only late readings are used: from the first
// that by the T and S of a line through its neighbours has u under [StrictU] and, in the
// pumped well, lies past the time that its own water lasts; where none does, [LooseU] with
// the sign [EarlyTime]. Where the later readings bend away, the sign says so and the line
// is that of the first third of the time, on its logarithm.
//
//   - Shapes: at least 4 readings in order of time.
//   - Units: as [Pumping] and [Reading]; T in m²/d.
//   - Domain: confined ground or drawdowns by [JacobCorrected]. In the pumped well itself
//     the line gives T alone: S would take up all that the well loses. In unconfined
//     ground the T of a single well comes out about double on average.
//   - Errors: [InputError], [ErrTooFew], [EarlyError] when nothing is late enough,
//     [ErrNoAnswer], [ErrOpen].
//   - Cost: a line for each place where it may begin: at most quadratic in the readings.
//   - Source: Cooper and Jacob (1946); the bias, Halford et al. (2006), abstract; ranges by
//     the delta method, Student's t and [Estimate].
//   - Checked by: TestFitCooperJacobAgainstReference, TestFitCooperJacobTodd,
//     TestOudeKorendijkMethodsDiffer, TestSignsOfBoundaries, TestPumpedWellGivesNoStorage,
//     ExampleFitCooperJacob.
func FitCooperJacob(p Pumping, readings []Reading) (Fit, error) {
	if err := p.check(); err != nil {
		return Fit{}, err
	}
	if err := checkReadings(readings, 4); err != nil {
		return Fit{}, err
	}
	x, y := make([]float64, len(readings)), make([]float64, len(readings))
	for i, r := range readings {
		x[i], y[i] = math.Log(r.Days), r.DrawdownM
	}
	d, err := p.draw(x, y, readings, p.aquiferOf)
	if err != nil {
		return Fit{}, err
	}
	f := Fit{RMSM: d.rms, Used: d.used, Signs: d.signs}
	if f.T, err = fitted(d.TM2D, d.spread(0, 1/d.b), d.dof); err != nil {
		return Fit{}, err
	}
	if p.OpenRadiusM == 0 {
		// ln S = const - ln b - a/b
		if s, err := fitted(d.Storage, d.spread(-1/d.b, -1/d.b+d.a/(d.b*d.b)), d.dof); err == nil {
			f.Storage = geo.Some(s)
		}
	}
	return f, nil
}

// aquiferOf reads T and S off a line in ln t.
func (p Pumping) aquiferOf(l line) Aquifer {
	t := p.DischargeM3D / (4 * math.Pi * l.b)
	return Aquifer{TM2D: t, Storage: jacob * t * math.Exp(-l.a/l.b) / (p.DistanceM * p.DistanceM)}
}
