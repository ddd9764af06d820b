package advisor

import (
	"context"
	"math"

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
	Yields   [soil.Count]hydraulics.Belief // of each class as the logs around describe it
	Drilling []Drilling                    // every method of the rules, in their order
	Regional RegionalRate
	GoFrom   float64 // chance from which the verdict is to go
	Screen   ScreenRules
}

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
		Water: water.Distribution, Layers: x.Parts(near.logs), Odds: x.Odds, Yields: a.yields(near, x.Shares),
		Regional: RegionalRate{a.snapshot.Len(), rate.Known, rate.Producing}, GoFrom: a.rules.Thresholds.Go,
		Screen: ScreenRules{highestScreenM, screenMinM, longestM, sumpM, coverM},
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

// yields returns what is believed of one layer of each class: of the grades that the logs
// describe, each by its share.
func (a *Advisor) yields(near gathered, shares []float64) (out [soil.Count]hydraulics.Belief) {
	for i, class := range soil.Known() {
		var weight, mean, square, within, region float64
		for n, log := range near.described {
			for _, l := range log.Layers {
				if l.Class != class {
					continue
				}
				b, w := a.fits.k.Of(l.Class, l.Grade, l.Clayey), shares[n]*float64(l.BaseM-l.TopM)
				weight, mean, square = weight+w, mean+w*b.Log10MPerS, square+w*b.Log10MPerS*b.Log10MPerS
				within, region = within+w*b.SDDecades*b.SDDecades, region+w*b.MeanSDDecades
			}
		}
		if out[i] = a.fits.k.Of(class, soil.GradeUnknown, false); weight > 0 {
			mean /= weight
			between := max(square/weight-mean*mean, 0)
			out[i].Log10MPerS, out[i].SDDecades, out[i].MeanSDDecades = mean, math.Sqrt(within/weight+between), region/weight
		}
	}
	return out
}
