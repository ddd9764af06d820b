package hydraulics

import (
	"math"

	"waterstrike/geo"
)

// FitDistance fits a straight line to drawdowns of one moment against the logarithm of
// distance,
//
//	T = Q/(2πb),  S = 2.25 T t/r₀²,
//
// with b its fall and r₀ where it meets 0.
//
//   - Shapes: at least 3 places at different distances.
//   - Units: m³/d, d, m; T in m²/d.
//   - Domain: confined ground or drawdowns by [JacobCorrected]; u of every place under
//     [LooseU], with the sign [EarlyTime] above [StrictU].
//   - Errors: [InputError], [ErrTooFew], [EarlyError], [ErrNoAnswer], [ErrOpen].
//   - Source: Cooper and Jacob (1946).
//   - Checked by: TestFitDistance, TestDistanceLineOudeKorendijk.
func FitDistance(dischargeM3D, days float64, places []Place) (Fit, error) {
	if err := positive(named{"discharge", dischargeM3D}, named{"time", days}); err != nil {
		return Fit{}, err
	}
	l, f, err := distanceLine(dischargeM3D, places)
	if err != nil {
		return Fit{}, err
	}
	farthest := 0.0
	for _, p := range places {
		farthest = max(farthest, p.DistanceM)
	}
	// ln S = const - ln(-b) + 2a/b
	storage, err := fitted(jacob*f.T.Value*days*math.Exp(2*l.a/l.b), l.spread(2/l.b, -1/l.b-2*l.a/(l.b*l.b)), l.dof)
	if err != nil {
		return Fit{}, err
	}
	f.Storage = geo.Some(storage)
	switch u := f.Aquifer(0).u(farthest, days); {
	case u > LooseU:
		return Fit{}, &EarlyError{u}
	case u > StrictU:
		f.Signs = append(f.Signs, EarlyTime)
	}
	return f, nil
}

// FitThiem fits a straight line to steady drawdowns against the logarithm of distance: one
// T for all places, where [Thiem] gives one for each pair.
//
//   - Shapes: at least 3 places at different distances.
//   - Units: m³/d, m; T in m²/d.
//   - Domain: confined ground, steady flow. A place that the flow has not reached bends the
//     line: the fit then has the sign [NotSteady].
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer], [ErrOpen].
//   - Source: Thiem (1906), from memory.
//   - Checked by: TestThiemOudeKorendijk.
func FitThiem(dischargeM3D float64, places []Place) (Fit, error) {
	if err := positive(named{"discharge", dischargeM3D}); err != nil {
		return Fit{}, err
	}
	_, f, err := distanceLine(dischargeM3D, places)
	return f, err
}

// unsteadyShare is how much of the whole fall the line may leave before it is called not
// steady; common practice, no source.
const unsteadyShare = 0.05

func distanceLine(dischargeM3D float64, places []Place) (line, Fit, error) {
	x, y := make([]float64, len(places)), make([]float64, len(places))
	least, most := math.Inf(1), math.Inf(-1)
	for i, p := range places {
		if err := positive(named{"distance", p.DistanceM}, named{"drawdown", p.DrawdownM}); err != nil {
			return line{}, Fit{}, err
		}
		x[i], y[i] = math.Log(p.DistanceM), p.DrawdownM
		least, most = min(least, y[i]), max(most, y[i])
	}
	l, err := fitLine(x, y)
	if err != nil {
		return line{}, Fit{}, err
	}
	f := Fit{RMSM: l.rms, Used: from(0, len(places))}
	if f.T, err = fitted(-dischargeM3D/(2*math.Pi*l.b), l.spread(0, 1/l.b), l.dof); err != nil {
		return line{}, Fit{}, err
	}
	if l.rms > unsteadyShare*(most-least) {
		f.Signs = append(f.Signs, NotSteady)
	}
	return l, f, nil
}
