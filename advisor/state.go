package advisor

import (
	"cmp"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// waterOf states the levels at a point from the dry-season low.
func waterOf(s *level.Statement, near gathered) *Water {
	low := Range{s.Low(0.1), s.Low(0.5), s.Low(0.9)}
	w := &Water{
		NormalLow: low,
		DesignLow: Range{s.DesignLow(low.P10), s.DesignLow(low.P50), s.DesignLow(low.P90)},
		WetHigh:   Range{s.WetHigh(low.P10), s.WetHigh(low.P50), s.WetHigh(low.P90)},
		Readings:  len(near.levels),
		NearestM:  near.levels[0].DistanceM,
	}
	for i, p := range QuantileSteps() {
		w.Quantiles[i] = s.Low(p)
	}
	return w
}

// layersOf states the layers at a point.
func (out *Advice) layersOf(x *strata.Mixture) {
	for _, l := range x.Odds.Layers() {
		out.Layers = append(out.Layers, Layer(l))
	}
	known := soil.Known()
	out.Odds = &OddsColumn{CellM: strata.CellM, Classes: known[:]}
	for i := range x.Odds {
		out.Odds.Odds = append(out.Odds.Odds, slices.Clone(x.Odds[i][:]))
	}
}

// evidenceShown is how many bores an advice names.
const evidenceShown = 10

// account names the bores that the advice rests on and what each weighs.
func (a *Advisor) account(near gathered, water *level.Statement, x *strata.Mixture) Evidence {
	e := Evidence{
		Regional: RegionalRate(a.snapshot.Rate()),
		Logs:     a.snapshot.Described(), Levels: a.snapshot.Levelled(),
		Effective: a.effective(near, water, x),
	}
	bores := map[geo.BoreID]*EvidenceBore{}
	if water != nil {
		for i, n := range near.levels {
			b := boreIn(bores, n)
			b.Level = water.Shares[i]
			if near.observations[i].State == level.Rest {
				b.LevelM = geo.Some(near.observations[i].DepthM)
			}
		}
	}
	if x != nil {
		total := x.Regional
		for _, w := range x.Weights {
			total += w
		}
		for i, n := range near.described {
			boreIn(bores, n).Layers = x.Weights[i] / total
		}
	}
	e.Bores = heaviest(bores)
	for _, n := range near.nearest {
		e.NearestM = geo.Some(n.DistanceM)
	}
	return e
}

func boreIn(bores map[geo.BoreID]*EvidenceBore, n evidence.Near) *EvidenceBore {
	b, ok := bores[n.ID]
	if !ok {
		b = &EvidenceBore{ID: n.ID, Label: n.Label, At: n.Pos, DistanceM: n.DistanceM, Outcome: n.Outcome}
		if n.Completed != (geo.Date{}) {
			b.Completed = geo.Some(n.Completed)
		}
		bores[n.ID] = b
	}
	return b
}

// effective is how many independent bores within reach the advice counts as: the lesser
// of what the layers and the level rest on, 0 when either is missing.
//
// For the level it is (Σs)²/Σs² of the shares of readings within the fitted range.
func (a *Advisor) effective(near gathered, water *level.Statement, x *strata.Mixture) float64 {
	if water == nil || x == nil {
		return 0
	}
	sum, square := 0.0, 0.0
	for i, n := range near.levels {
		if n.DistanceM <= max(a.fits.level.RangeM(), a.fits.strata.ReachM()) {
			sum += water.Shares[i]
			square += water.Shares[i] * water.Shares[i]
		}
	}
	if square == 0 {
		return 0
	}
	return min(sum*sum/square, x.Effective)
}

func heaviest(bores map[geo.BoreID]*EvidenceBore) []EvidenceBore {
	out := make([]EvidenceBore, 0, len(bores))
	for _, b := range bores {
		out = append(out, *b)
	}
	slices.SortFunc(out, func(x, y EvidenceBore) int {
		return cmp.Or(cmp.Compare(y.Weight(), x.Weight()), cmp.Compare(x.ID, y.ID))
	})
	return out[:min(evidenceShown, len(out))]
}
