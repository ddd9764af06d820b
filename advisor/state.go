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
	w.SeasonIdentified, w.SeasonRangeM = s.SeasonIdentified(), s.SeasonRangeM()
	for i, p := range QuantileSteps() {
		w.Quantiles[i] = s.Low(p)
	}
	return w
}

// layersOf states the layers at a point as a crew would name them.
func (out *Advice) layersOf(x *strata.Statement) {
	named := x.Named()
	for _, l := range named.Layers() {
		out.Layers = append(out.Layers, Layer(l))
	}
	known := soil.Known()
	out.Odds = &OddsColumn{CellM: strata.CellM, Classes: known[:]}
	for i := range named {
		out.Odds.Odds = append(out.Odds.Odds, slices.Clone(named[i][:]))
	}
}

// evidenceShown is how many bores an advice names.
const evidenceShown = 10

// account names the bores that the advice rests on and what each weighs.
func (a *Advisor) account(near gathered, water *level.Statement, x *strata.Statement) Evidence {
	rate := a.snapshot.Rate()
	e := Evidence{
		Regional: RegionalRate{a.snapshot.Len(), rate.Known, rate.Producing},
		Logs:     a.snapshot.Described(), Levels: a.snapshot.Levelled(),
	}
	bores := map[geo.BoreID]*EvidenceBore{}
	counted := a.boresNear(near, water, x)
	e.ForWater, e.ForLayers, e.Effective = counted.ForWater, counted.ForLayers, counted.Effective()
	if water != nil {
		weighLevels(bores, near, water)
	}
	if x != nil {
		weighLayers(bores, near, x)
	}
	e.Bores = heaviest(bores, water != nil && x != nil)
	for _, n := range near.nearest {
		e.NearestM = geo.Some(n.DistanceM)
	}
	e.Doubts = e.doubts(rate)
	return e
}

// boresNear counts the separate bores behind both statements.
func (a *Advisor) boresNear(near gathered, water *level.Statement, x *strata.Statement) (n BoresNear) {
	if water != nil {
		n.ForWater = independent(near.levels, a.fits.level.ReachM())
	}
	if x != nil {
		n.ForLayers = independent(near.described[:min(closest, len(near.described))], a.fits.strata.ReachM())
	}
	return n
}

// doubts says what speaks against trusting the records.
func (e *Evidence) doubts(rate evidence.Rate) (out []geo.Message) {
	if rate.Deep > 0 {
		out = append(out, geo.Say("evidence.deep-levels", geo.With("n", geo.Count(rate.Deep)),
			geo.With("total", geo.Count(rate.Deep+e.Levels)), geo.With("length", geo.Metres(evidence.ShallowM))))
	}
	if r := e.Regional; r.unbelievable() {
		out = append(out, geo.Say("evidence.no-failures", geo.With("n", geo.Count(r.Known)), geo.With("total", geo.Count(r.Bores))))
	}
	return out
}

// veryFarM is a distance at which a mistyped position is likelier than a wish to drill.
const veryFarM = 50_000

// farOff says that no evidence is within reach of the point; nothing where some is.
func (a *Advisor) farOff(e Evidence) (out []geo.Message) {
	if e.NearestM.Or(0) > veryFarM {
		out = append(out, geo.Say("evidence.very-far", geo.With("distance", geo.DistanceM(e.NearestM.Or(0)))))
	}
	if reach := a.reachM(); e.ForWater == 0 && e.ForLayers == 0 && reach > 0 {
		out = append(out, geo.Say("evidence.far", geo.With("distance", geo.DistanceM(reach))))
	}
	return out
}

// reachM is how far evidence of either kind reaches.
func (a *Advisor) reachM() (reach float64) {
	if a.fits.level != nil {
		reach = a.fits.level.ReachM()
	}
	if a.fits.strata != nil {
		reach = max(reach, a.fits.strata.ReachM())
	}
	return reach
}

// Believable reports that a rate of success can be read from the outcomes.
func (r RegionalRate) Believable() bool { return r.Known > 0 && !r.unbelievable() }

// unbelievable reports that a region's records hold hardly any failure: no programme has
// so few (trade sources give 5-60 %), so failures were not written down.
func (r RegionalRate) unbelievable() bool {
	return r.Known >= 50 && float64(r.Known-r.Producing) < 0.01*float64(r.Known)
}

func weighLevels(bores map[geo.BoreID]*EvidenceBore, near gathered, water *level.Statement) {
	for i, n := range near.levels {
		b := boreIn(bores, n)
		b.Level = water.Shares[i]
		switch near.observations[i].State {
		case level.Rest:
			b.LevelM = geo.Some(near.observations[i].DepthM)
		case level.Flowing:
			b.Flows = true
		}
	}
}

func weighLayers(bores map[geo.BoreID]*EvidenceBore, near gathered, x *strata.Statement) {
	for i, n := range near.described {
		boreIn(bores, n).Layers = x.Shares[i]
	}
}

func boreIn(bores map[geo.BoreID]*EvidenceBore, n evidence.Near) *EvidenceBore {
	b, ok := bores[n.ID]
	if !ok {
		b = &EvidenceBore{ID: n.ID, Label: n.Label, At: n.Pos, DistanceM: n.DistanceM, Outcome: n.Outcome, Method: n.Method, DepthM: n.DepthM}
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
