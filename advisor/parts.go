package advisor

import (
	"context"
	"math"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Parts is what the chances at one point are made of, for an answer that goes on away
// from the records.
type Parts struct {
	At       coord.LonLat
	Snapshot string // that it comes from, with the fits: see [Advisor.ID]
	Version  string
	Water    level.Distribution
	Layers   strata.Parts
	Odds     strata.Odds
	Yields   [][soil.Count][]Yield // of each class as the logs around describe it, by ranges of YieldsM down
	YieldsM  float64
	Drilling []Drilling // every method of the rules, in their order
	Regional RegionalRate
	GoFrom   float64 // chance from which the verdict is to go
	Screen   ScreenRules
}

// yieldsM is over how much depth one belief of a class stands: sands are coarser farther down.
const yieldsM = 4.0

// Drilling is a method with what its wells are built with.
type Drilling struct {
	welldesign.Kit
	NeededT []float64 // m²/d for an allowed drawdown of so many half metres; without limit for none
}

// ScreenRules say what must fit above, around and below a screen, metres.
type ScreenRules struct {
	HighestM float64 // least depth of its top: seal, clay and pack stand above it
	LeastM   float64 // of its length opposite ground that gives water
	LongestM float64
	SumpM    float64 // of plugged pipe below it
	CoverM   float64 // of water that stays over its foot
}

// Parts takes the answer at a point apart.
//
// Errors are those of [Advisor.Advise]; and [geo.TooFewData] where the evidence does not
// bear a statement of layers and of water.
func (a *Advisor) Parts(ctx context.Context, at coord.LonLat) (Parts, error) {
	if err := a.askable(ctx, at); err != nil {
		return Parts{}, err
	}
	near := a.gather(at)
	water, err := a.water(near)
	if err != nil {
		return Parts{}, err
	}
	x := a.layers(near)
	if v := without(water != nil, x != nil); len(v.Because) > 0 {
		return Parts{}, geo.Fail(geo.TooFewData, "advisor.Parts", v.Because[0], nil)
	}
	rate := a.snapshot.Rate()
	out := Parts{
		At: at, Snapshot: a.ID(), Version: a.version,
		Water: water.Distribution, Layers: x.Parts(near.logs), Odds: x.Odds, YieldsM: yieldsM,
		Regional: RegionalRate{a.snapshot.Len(), rate.Known, rate.Producing}, GoFrom: a.rules.Thresholds.Go,
		Screen: ScreenRules{highestScreenM, screenMinM, longestM, sumpM, coverM},
	}
	for depthM := 0.5 * yieldsM; depthM < strata.Cells*strata.CellM; depthM += yieldsM {
		out.Yields = append(out.Yields, a.yields(near, x.Shares, depthM))
	}
	for i, d := range a.drillers {
		out.Drilling = append(out.Drilling, Drilling{a.builders[i].Kit, d.neededT})
	}
	return out, nil
}

// Spots returns at most n places like those that people drilled: half a kilometre from
// bores spread over the region, so that no log stands at the spot itself.
func (a *Advisor) Spots(n int) []coord.LonLat {
	var out []coord.LonLat
	for i, b := range a.snapshot.SampleDescribed(n) {
		turn := 2 * math.Pi * float64(i) / 8
		out = append(out, coord.NewPlane(b.Pos).LonLat(coord.XY{X: 500 * math.Cos(turn), Y: 500 * math.Sin(turn)}))
	}
	return out
}

// Yield is a belief about the ground of a class and its share: all shares add up to 1.
type Yield struct {
	Share float64
	hydraulics.Belief
}

// yields returns what is believed of the ground of each class about a depth, as the possible
// grounds take it: for each log by its share the layer that it, or the first log close by,
// has nearest to the depth. Classes that no screen is set against have none.
func (a *Advisor) yields(near gathered, shares []float64, depthM float64) (out [soil.Count][]Yield) {
	for i, class := range soil.Known() {
		if !WorthScreening(class) {
			continue
		}
		var all []evidence.Layer
		weight, total := map[evidence.Layer]float64{}, 0.0
		for n := range near.described {
			var of likes
			like := of.at(class, int(depthM/strata.CellM), startingWith(near.described, n))
			like.TopM, like.BaseM = 0, 0
			if weight[like] == 0 {
				all = append(all, like)
			}
			weight[like] += shares[n]
			total += shares[n]
		}
		for _, l := range all {
			out[i] = append(out[i], Yield{weight[l] / total, near.k.Of(class, l.Grade, l.Clayey)})
		}
	}
	return out
}
