package hydraulics

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo"
)

// FitDistance fits a straight line to drawdowns of one moment against the logarithm of
// distance,
//
//	T = Q/(2πb),  S = 2.25 T t/r₀²,
//
// with b its fall and r₀ where it meets 0. The farthest places are left out as long as it is
// too early for them and three are left.
//
//   - Shapes: at least 3 places at different distances.
//   - Units: m³/d, d, m; T in m²/d.
//   - Domain: confined ground or drawdowns by [JacobCorrected]; u of every place that is used
//     under [LooseU], or of all three places under 0.15, where the well function is read 9 %
//     too low; the sign [EarlyTime] above [StrictU].
//   - Errors: [InputError], [ErrTooFew], [EarlyError], [ErrNoAnswer], [ErrOpen].
//   - Source: Cooper and Jacob (1946).
//   - Checked by: TestFitDistance, TestDistanceLineOudeKorendijk, TestRangesHoldTheTruth.
func FitDistance(dischargeM3D, days float64, places []Place) (Fit, error) {
	if err := positive(named{"discharge", dischargeM3D}, named{"time", days}); err != nil {
		return Fit{}, err
	}
	order := byDistance(places)
	var tooEarly error = ErrTooFew
	for n := len(order); n >= 3; n-- {
		f, err := distanceFit(dischargeM3D, days, places, order[:n])
		if err != nil {
			return Fit{}, err
		}
		u := f.Aquifer(0).u(places[order[n-1]].DistanceM, days)
		limit := LooseU
		if n == 3 {
			limit = loosestU
		}
		if u <= limit {
			if u > StrictU {
				f.Signs = append(f.Signs, EarlyTime)
			}
			return f, nil
		}
		if len(order) == n {
			tooEarly = &EarlyError{u}
		}
	}
	return Fit{}, tooEarly
}

// loosestU is that up to which three places are still read by a line, as books do by hand.
const loosestU = 0.15

// byDistance is the order of places from the nearest to the farthest.
func byDistance(places []Place) []int {
	order := from(0, len(places))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(places[a].DistanceM, places[b].DistanceM) })
	return order
}

func distanceFit(dischargeM3D, days float64, places []Place, used []int) (Fit, error) {
	l, f, err := distanceLine(dischargeM3D, places, used)
	if err != nil {
		return Fit{}, err
	}
	// ln S = const - ln(-b) + 2a/b
	storage, err := fitted(jacob*f.T.Value*days*math.Exp(2*l.a/l.b), l.spread(2/l.b, -1/l.b-2*l.a/(l.b*l.b)), l.dof)
	if err != nil {
		return Fit{}, err
	}
	f.Storage = geo.Some(storage)
	return f, nil
}

// FitThiem fits a straight line to steady drawdowns against the logarithm of distance: one
// T for all places, where [Thiem] gives one for each pair. Of four places or more the
// farthest is left out where the rest lie on a line and it does not: the flow had not
// reached it.
//
//   - Shapes: at least 3 places at different distances.
//   - Units: m³/d, m; T in m²/d.
//   - Domain: confined ground, steady flow. A place that the flow has not reached bends the
//     line: the fit then has the sign [NotSteady].
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer], [ErrOpen].
//   - Source: Thiem (1906), from memory.
//   - Checked by: TestThiemOudeKorendijk, TestRangesHoldTheTruth.
func FitThiem(dischargeM3D float64, places []Place) (Fit, error) {
	if err := positive(named{"discharge", dischargeM3D}); err != nil {
		return Fit{}, err
	}
	order := byDistance(places)
	l, f, err := distanceLine(dischargeM3D, places, order)
	if err != nil || len(order) < 4 {
		return f, err
	}
	const better = 5 // times that the rest lie nearer to their own line, common practice, no source
	most := 0.0
	for _, p := range places {
		most = max(most, p.DrawdownM)
	}
	nearer, without, err := distanceLine(dischargeM3D, places, order[:len(order)-1])
	if err == nil && l.rms > max(tapeM, 2*unevenShare*most) && better*nearer.rms < l.rms {
		if !without.Has(NotSteady) {
			without.Signs = append(without.Signs, NotSteady)
		}
		return without, nil
	}
	return f, nil
}

// unsteadyShare is how much of the whole fall the line may leave before it is called not
// steady; common practice, no source.
const unsteadyShare = 0.05

func distanceLine(dischargeM3D float64, places []Place, used []int) (line, Fit, error) {
	x, y := make([]float64, len(used)), make([]float64, len(used))
	least, most := math.Inf(1), math.Inf(-1)
	for i, at := range used {
		p := places[at]
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
	f := Fit{RMSM: l.rms, Used: slices.Sorted(slices.Values(used))}
	if f.T, err = fitted(-dischargeM3D/(2*math.Pi*l.b), l.spread(0, 1/l.b), l.dof); err != nil {
		return line{}, Fit{}, err
	}
	if l.rms > unsteadyShare*(most-least) {
		f.Signs = append(f.Signs, NotSteady)
	}
	if len(used) == 3 {
		f.Signs = append(f.Signs, FewReadings)
	}
	return l, f, nil
}
