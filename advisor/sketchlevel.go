package advisor

import (
	"math"

	"waterstrike/advisor/level"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	sketchFields = 8    // equal slices of what the water surface may be
	fineLevels   = 16   // how many levels of the tables are taken as they are
	leastSketch  = 5e-4 // odds of a level below which it is left out
)

// sketchLevel is one level that the water may stand at.
type sketchLevel struct {
	lowM, designM float64
	odds          float64
	fields        [sketchFields]float64 // the odds given the middle of each slice of the surface
}

// appendLevels lists the levels of the tables with their odds, which add up to 1. Where
// there are many every other one is left out and its odds go to both of its neighbours, as
// a straight line between them would have it.
func appendLevels(out []sketchLevel, water level.Distribution) []sketchLevel {
	odds := levelOdds(water)
	n := 0
	for _, p := range odds {
		if p > 0 {
			n++
		}
	}
	coarse := n > fineLevels
	if coarse {
		halve(&odds)
	}
	fields := fieldOdds(water, coarse)
	var sums [sketchFields + 1]float64
	for i, p := range odds {
		if p < leastSketch {
			continue
		}
		low := levelTopM + float64(i)*levelStepM
		l := sketchLevel{lowM: low, designM: water.DesignLow(low), odds: p}
		sums[sketchFields] += p
		for f := range fields {
			l.fields[f] = fields[f][i]
			sums[f] += l.fields[f]
		}
		out = append(out, l)
	}
	for i := range out {
		out[i].odds /= sums[sketchFields]
		for f := range fields {
			out[i].fields[f] /= max(sums[f], leastSketch)
		}
	}
	return out
}

// halve gives the odds of every other level to its neighbours.
func halve(odds *[levelSteps]float64) {
	for i := 1; i < levelSteps; i += 2 {
		odds[i-1] += odds[i] / 2
		odds[i+1] += odds[i] / 2
		odds[i] = 0
	}
}

// fieldOdds are the odds of the levels given the middle of each slice of the surface.
func fieldOdds(water level.Distribution, coarse bool) (out [sketchFields][levelSteps]float64) {
	given := water
	given.FieldVar = 0
	for f := range out {
		z := distuv.UnitNormal.Quantile((float64(f) + 0.5) / sketchFields)
		given.Mean = water.Mean + z*math.Sqrt(water.FieldVar)
		out[f] = levelOdds(given)
		if coarse {
			halve(&out[f])
		}
	}
	return out
}
