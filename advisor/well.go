package advisor

import (
	"math"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// The rules of the well itself: what must fit above, around and below the screen.
//
// Seal of at least 3 m, pack at least 0.6 m above the screen (2 m where it fits), clay
// between pack and cement, 0.5 m of blank pipe and plug below, 3-6 m of screen: WEDC and
// RWSN codes of practice, from memory; the rest common practice, no source.
const (
	sealM      = 3.0
	clayM      = 0.5
	packMinM   = 0.6
	packBestM  = 2.0
	sumpM      = 0.5
	screenM    = 3.0 // length of screen that is looked for first
	longestM   = 6.0 // length that poor ground may take
	screenMinM = 1.0 // least length opposite ground that gives water
	coverM     = 1.0 // water that must stay above the intake
)

// highestScreenM is the least depth of a screen's top: seal, clay and pack stand above it.
const highestScreenM = sealM + clayM + packMinM

// ground is one possible column at the point with its hydraulic conductivity.
type ground struct {
	classes strata.Column
	t       [strata.Cells + 1]yielding // of the ground worth screening above each cell, summed from the surface
	giving  [strata.Cells + 1]int16    // how many cells above each cell are worth screening
	solid   [strata.Cells + 1]int16    // how many of them follow each other right above it
}

// strike returns where water first enters a hole when it rests at lowM: there, or at the
// top of the first ground below that gives water, where tight ground holds it down.
func (g *ground) strike(lowM float64) float64 {
	for i := max(0, int(lowM/strata.CellM)); i < strata.Cells; i++ {
		if g.giving[i+1] > g.giving[i] {
			return max(lowM, float64(i)*strata.CellM)
		}
	}
	return lowM
}

// result is what one method would find in one ground with the water at one level.
type result struct {
	works   [bands]float64 // chance that it becomes a water point: 0 or the chance that the yield passes
	fails   failure        // what fails first otherwise
	bottomM float64
	topM    float64 // of the screen
	baseM   float64
}

// chance is that of all bands together.
func (r *result) chance() float64 { return mean(r.works) }

// failure is what fails first in a hole.
type failure uint8

const (
	tooDeep failure = iota
	byRock
	byHardpan
	byGravel
	byStiff
	noLayer
	yieldTooLow
	noRoomToSeal
	failures // how many there are
)

// code names the failure in the catalogue.
func (f failure) code() geo.Code {
	return [failures]geo.Code{
		"reason.water-too-deep", "reason.stopped-by-rock", "reason.stopped-by-hardpan",
		"reason.stopped-by-gravel", "reason.stopped-by-stiff-layer", "reason.no-yielding-layer",
		"reason.yield-too-low", "reason.no-room-for-seal",
	}[f]
}

// driller is a method with the transmissivity that its well needs.
type driller struct {
	method.Method
	neededT   []float64 // m²/d for an allowed drawdown of i·strata.CellM
	perNeeded []float64 // one over it
	highestM  float64   // least depth of a screen's top
}

// newDriller is a method whose well serves a hand pump for years.
func newDriller(m method.Method) (*driller, error) {
	return drillerFor(m, hydraulics.HandPump(m.HoleMM), highestScreenM)
}

func drillerFor(m method.Method, duty hydraulics.Duty, highestM float64) (*driller, error) {
	d := driller{Method: m, neededT: make([]float64, strata.Cells+1), perNeeded: make([]float64, strata.Cells+1), highestM: highestM}
	d.neededT[0] = math.Inf(1)
	for i := 1; i < len(d.neededT); i++ {
		t, err := hydraulics.NeededT(duty, float64(i)*strata.CellM)
		if err != nil {
			return nil, err
		}
		d.neededT[i], d.perNeeded[i] = t, 1/t
	}
	return &d, nil
}

// trial is a ground that a method is tried in, with the water at one level after another.
type trial struct {
	*driller
	*ground
	stop        method.Stopped
	short, long windows // for screens of screenM and of longestM
}

// in looks at a ground once for all levels.
func (d *driller) in(g *ground) *trial {
	x := new(trial)
	x.begin(d, g)
	return x
}

// begin is in, in the memory of an earlier trial.
func (x *trial) begin(d *driller, g *ground) {
	x.driller, x.ground, x.stop = d, g, d.StoppedIn(g.classes[:], strata.CellM)
	cells := min(d.cells(), strata.Cells)
	x.short.of(g, screenM/strata.CellM, cells)
	x.long.of(g, longestM/strata.CellM, cells)
}

// cells is how many of a ground the method may reach.
func (d *driller) cells() int { return int(math.Ceil(d.MaxDepthM / strata.CellM)) }

// at drills with the water at waterM on that day, and lines the well for designM, the low
// of the worst year in ten.
func (x *trial) at(waterM, designM float64) result {
	reach := x.stop.Reach(&x.Method, strata.Cells*strata.CellM, x.strike(waterM))
	r := result{bottomM: reach.DepthM}
	floor := reach.DepthM - sumpM
	roof := max(designM, x.highestM)
	if floor < roof+screenMinM {
		r.fails = tooShort(reach, designM)
		return r
	}
	best := x.bestScreen(&x.short, roof, floor, designM)
	works := best.works()
	if mean(works) < surely {
		best = x.bestScreen(&x.long, roof, floor, designM)
		works = best.works()
	}
	if best.enough == 0 {
		r.fails = x.whyNoScreen(reach, designM, floor)
		return r
	}
	r.topM, r.baseM, r.bottomM = best.topM, best.baseM, best.baseM+sumpM
	r.works, r.fails = works, yieldTooLow
	return r
}

// surely is the chance to pass from which a longer screen is not worth its pipe.
const surely = 0.9

// whyNoScreen tells ground that gives water too near the surface or too near the bottom
// from ground that gives none.
func (x *trial) whyNoScreen(reach method.Reach, designM, floor float64) failure {
	if designM < x.highestM && x.bestScreen(&x.short, max(designM, 0), floor, designM).enough > 0 {
		return noRoomToSeal
	}
	from, to := int(max(designM, x.highestM)/strata.CellM), min(int(floor/strata.CellM), strata.Cells)
	if x.giving[to] > x.giving[from] {
		return tooShort(reach, designM)
	}
	return noLayer
}

// tooShort says why a hole ended before it had room for a screen below water.
func tooShort(reach method.Reach, designM float64) failure {
	switch reach.StoppedBy {
	case soil.Rock, soil.FracturedRock:
		return byRock
	case soil.Hardpan:
		return byHardpan
	case soil.Gravel:
		return byGravel
	case soil.Unknown:
		if reach.Limit == method.ByWater && designM < highestScreenM {
			return noRoomToSeal
		}
		return tooDeep
	default:
		return byStiff
	}
}
