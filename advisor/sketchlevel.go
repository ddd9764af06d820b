package advisor

import (
	"math"

	"waterstrike/advisor/level"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	sketchFields = 8    // equal slices of what the water surface may be
	fineLevels   = 16   // how many levels of the tables are taken as they are
	coarsest     = 4    // steps of the tables between levels at most; levelSteps-1 is a multiple of it
	leastSketch  = 5e-4 // odds of a level below which it is left out
)

// sketchLevel is one level that the water may stand at.
type sketchLevel struct {
	lowM, designM float64
	odds          float64
	fields        [sketchFields]float64 // the odds given the middle of each slice of the surface
}

// appendLevels lists the levels of the tables with their odds, which add up to 1. Where
// there are many every other one is left out, and again, until there are few.
func appendLevels(out []sketchLevel, water level.Distribution) []sketchLevel {
	odds := levelOdds(water)
	n := 0
	for _, p := range odds {
		if p > 0 {
			n++
		}
	}
	step := 1
	for n/step > fineLevels && step < coarsest {
		step *= 2
	}
	thin(&odds, step)
	fields := fieldOdds(water, &odds, step)
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

// thin keeps every step-th level. What is left out gives its odds to both of its
// neighbours, as a straight line between them would have it.
func thin(odds *[levelSteps]float64, step int) {
	for half := 1; half < step; half *= 2 {
		for i := half; i < levelSteps; i += 2 * half {
			odds[i-half] += odds[i] / 2
			odds[i+half] += odds[i] / 2
			odds[i] = 0
		}
	}
}

// fieldOdds are the odds of the levels given the middle of each slice of the surface, as far
// as levels are likely at all.
func fieldOdds(water level.Distribution, likely *[levelSteps]float64, step int) (out [sketchFields][levelSteps]float64) {
	from, to := levelSteps, 0
	for i, p := range likely {
		if p > 0 {
			from, to = min(from, i), i
		}
	}
	from, to = max(from-step, 0), min(to+step, levelSteps-1)
	given := water
	given.FieldVar = 0
	for f := range out {
		z := distuv.UnitNormal.Quantile((float64(f) + 0.5) / sketchFields)
		given.Mean = water.Mean + z*math.Sqrt(water.FieldVar)
		oddsBetween(&out[f], given, from, to)
		thin(&out[f], step)
	}
	return out
}
