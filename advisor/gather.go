package advisor

import (
	"math/rand/v2"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// How many neighbours an answer reads.
const (
	nearLevels      = 32
	nearLogs        = 24
	regionalGrounds = 24
	perLog          = 2 // possible grounds drawn from a log that ends above the model's depth
)

// gathered is the evidence around one point.
type gathered struct {
	nearest      []evidence.Near // the nearest bore of any kind
	levels       []evidence.Near // those behind observations, in their order
	observations []level.Observation
	described    []evidence.Near // those behind logs, in their order
	logs         []strata.Log
	logDistances []float64
}

func (a *Advisor) gather(at coord.LonLat) gathered {
	g := gathered{nearest: a.snapshot.Nearest(at, 1)}
	plane := coord.NewPlane(at)
	for _, n := range a.snapshot.NearestLevelled(at, nearLevels) {
		if o, ok := observationOf(n.Bore, plane); ok {
			g.levels, g.observations = append(g.levels, n), append(g.observations, o)
		}
	}
	for _, n := range a.snapshot.NearestDescribed(at, nearLogs) {
		if log := logOf(n.Bore); log.Described() {
			g.described, g.logs = append(g.described, n), append(g.logs, log)
			g.logDistances = append(g.logDistances, n.DistanceM)
		}
	}
	return g
}

// observationOf returns what a bore states of the level; ok is false when it states
// nothing, or was dry in ground too tight to show water within a day.
func observationOf(b *evidence.Bore, plane coord.Plane) (o level.Observation, ok bool) {
	if len(b.Levels) == 0 {
		return o, false
	}
	l := b.Levels[0]
	xy := plane.XY(b.Pos)
	o = level.Observation{DepthM: float64(l.DepthM), Month: l.Month, Vague: l.Any}
	o.At.X, o.At.Y = xy.X, xy.Y
	switch l.State {
	case geo.LevelFlowing:
		o.State = level.Flowing
	case geo.LevelDryTo:
		o.State = level.DryTo
		return o, !tightAt(b, l.DepthM)
	}
	return o, true
}

// tightAt reports that the ground above a depth is known to be too tight for water to
// show: then a dry hole bounds the strike and not the level.
func tightAt(b *evidence.Bore, depthM float32) bool {
	for _, l := range b.Layers {
		if l.TopM < depthM && depthM <= l.BaseM {
			return l.Class == soil.Clay || l.Class == soil.Rock || l.Class == soil.Hardpan
		}
	}
	return false
}

// grounds draws the possible grounds at a point: completed logs of the neighbours with
// their weights, and logs of the region sharing the regional weight.
func (a *Advisor) grounds(near gathered, x *strata.Mixture, rng *rand.Rand) []weighed {
	var out []weighed
	add := func(b *evidence.Bore, weight float64, copies int) {
		for range copies {
			out = append(out, weighed{groundFrom(a.fits.strata, b, rng), weight / float64(copies)})
		}
	}
	for i, n := range near.described {
		if x.Weights[i] < leastWeight {
			continue
		}
		copies := perLog
		if len(near.logs[i].Cells) == strata.Cells {
			copies = 1
		}
		add(n.Bore, x.Weights[i], copies)
	}
	for _, b := range a.fits.regional {
		add(b, x.Regional/float64(len(a.fits.regional)), 1)
	}
	return out
}

// leastWeight is the weight below which a log is not drilled in the ensemble: a hundred of
// them together weigh less than one log.
const leastWeight = 1e-3
