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
	}
	if e.Regional.unbelievable() {
		e.Doubts = append(e.Doubts, geo.Say("evidence.no-failures"))
	}
	bores := map[geo.BoreID]*EvidenceBore{}
	if water != nil {
		e.ForWater = independent(near.levels, a.fits.level.RangeM())
		weighLevels(bores, near, water)
	}
	if x != nil {
		e.ForLayers = independent(near.described, a.fits.strata.ReachM())
		weighLayers(bores, near, x)
	}
	e.Effective = min(e.ForWater, e.ForLayers)
	e.Bores = heaviest(bores, water != nil && x != nil)
	for _, n := range near.nearest {
		e.NearestM = geo.Some(n.DistanceM)
	}
	return e
}

// unbelievable reports that a region's records hold hardly any failure: no programme has
// so few (trade sources give 5-60 %), so failures were not written down.
func (r RegionalRate) unbelievable() bool {
	return r.Known >= 50 && float64(r.Known-r.Producing) < 0.01*float64(r.Known)
}

func weighLevels(bores map[geo.BoreID]*EvidenceBore, near gathered, water *level.Statement) {
	for i, n := range near.levels {
		b := boreIn(bores, n)
		b.Level = water.Shares[i]
		if near.observations[i].State == level.Rest {
			b.LevelM = geo.Some(near.observations[i].DepthM)
		}
	}
}

func weighLayers(bores map[geo.BoreID]*EvidenceBore, near gathered, x *strata.Mixture) {
	total := x.Regional
	for _, w := range x.Weights {
		total += w
	}
	for i, n := range near.described {
		boreIn(bores, n).Layers = x.Weights[i] / total
	}
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

func heaviest(bores map[geo.BoreID]*EvidenceBore, both bool) []EvidenceBore {
	out := make([]EvidenceBore, 0, len(bores))
	for _, b := range bores {
		b.Weight = b.Layers + b.Level
		if both {
			b.Weight /= 2
		}
		out = append(out, *b)
	}
	slices.SortFunc(out, func(x, y EvidenceBore) int {
		return cmp.Or(cmp.Compare(y.Weight, x.Weight), cmp.Compare(x.ID, y.ID))
	})
	return out[:min(evidenceShown, len(out))]
}
