package method

import (
	"math"

	"waterstrike/geo/soil"
)

// Rates is how fast a method gets on, learnt from logs over the list's ranges.
type Rates struct {
	Readings int // bores and classes that were timed
	Crews    int // that timed them; an unnamed crew counts once for each bore
	AtOdds   int // passages whose pace no crew has

	method Method
	anyone map[cell]Rate // of a crew that is not known
	crews  map[string]int
	cells  map[cell]int
	fitted posterior
}

// Rate is what is believed of the minutes that a metre takes at the surface in a hole yet
// to be drilled: log-normal.
type Rate struct {
	LnMinutes float64 // mean of ln(minutes per metre)
	SD        float64
	slower    float64
}

// Of returns the pace in a class for a crew that is not known.
//
//   - Units: see [Rate].
//   - Domain: classes that the method passes; ok is false for others.
//   - Source: see [Method.Learn].
//   - Checked by: TestLearnWithoutLogs, TestLearnRangeHolds.
func (r *Rates) Of(class soil.Class, belowWater bool) (rate Rate, ok bool) {
	rate, ok = r.anyone[r.method.cellOf(class, belowWater)]
	return rate, ok
}

// By returns the pace in a class for one crew; that of an unknown crew where it has logged
// nothing.
//
//   - Units: see [Rate].
//   - Domain: as [Rates.Of].
//   - Source: see [Method.Learn].
//   - Checked by: TestLearnShrinksCrews.
func (r *Rates) By(crew string, class soil.Class, belowWater bool) (rate Rate, ok bool) {
	c := r.method.cellOf(class, belowWater)
	i, known := r.crews[crew]
	if _, passable := r.anyone[c]; !known || !passable {
		return r.Of(class, belowWater)
	}
	return r.by(i, c), true
}

// tabulate works out the pace of a crew that is not known in every cell.
func (r *Rates) tabulate() {
	r.anyone = map[cell]Rate{}
	for class, g := range r.method.Ground {
		if g.Pace == Stop || g.Speed.LoMH == 0 {
			continue
		}
		for _, below := range []bool{false, true} {
			c := r.method.cellOf(soil.Class(class), below)
			r.anyone[c] = r.by(-1, c)
		}
	}
}

func (r *Rates) by(crew int, c cell) Rate {
	speed := r.method.speed(c)
	k, seen := r.cells[c]
	if !seen {
		k = -1
	}
	mean, variance := r.fitted.at(crew, k, regionVariance(speed))
	return Rate{middle(speed) + mean, math.Sqrt(variance), r.method.SlowerPerM}
}

// Minutes returns how long an interval takes, at z standard deviations of the pace,
//
//		exp(μ + z·SD) · ∫ (1 + a·depth) d depth.
//
//	  - Units: metres below ground; minutes.
//	  - Domain: 0 <= topM <= baseM; z = 0 is the median, 0.8416 what four holes in five stay
//	    below.
//	  - Source: time model of trade practice, a = 0.03 a metre, no source.
//	  - Checked by: TestMinutesFollowTheTimeModel.
func (r Rate) Minutes(topM, baseM, z float64) float64 {
	return math.Exp(r.LnMinutes+z*r.SD) * (baseM - topM) * (1 + r.slower*(topM+baseM)/2)
}

// Wider returns the pace in a hole of another diameter than the method's usual one.
//
//   - Units: millimetres, both above 0.
//   - Source: progress of percussion falls with the square of the diameter (common
//     practice, no source); the power stands in the list.
//   - Checked by: TestMinutesFollowTheTimeModel.
func (r Rate) Wider(m *Method, holeMM float64) Rate {
	r.LnMinutes += m.DiameterPower * math.Log(holeMM/m.HoleMM)
	return r
}

// middle is the logarithm of the minutes per metre in the middle of a range of speed.
func middle(s Speed) float64 { return math.Log(60) - (math.Log(s.LoMH)+math.Log(s.HiMH))/2 }

// spread is the standard deviation of the logarithm of a speed: its range holds eight
// crews and holes in ten.
func spread(s Speed) float64 { return math.Log(s.HiMH/s.LoMH) / (2 * 1.2815515655446004) }

// regionVariance is how much of a range's variance lies between regions: half of it, or
// what crews and holes leave of it.
func regionVariance(s Speed) float64 {
	whole := spread(s) * spread(s)
	return max(whole/2, whole-2*usualVariance)
}
