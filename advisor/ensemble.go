package advisor

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"waterstrike/advisor/level"

	"gonum.org/v1/gonum/stat/distuv"
)

// The ensemble: so many draws of what is not known of the whole place (the water
// surface, which logs this spot takes after), and within each so many of a single bore.
const (
	members    = 64
	boresEach  = 16
	levelStepM = 0.5
	levelTopM  = -5.0
	levelSteps = 101 // to 45 m, past the deepest method
)

// weighed is a possible ground with the weight of the log it came from, in logs
// standing at the point.
type weighed struct {
	ground
	weight float64
}

// outcomes tabulates what one method finds in one ground, by water level.
type outcomes [levelSteps]result

// tabulate drills one ground at every level that the ensemble meets.
func (d *driller) tabulate(g *ground, water level.Distribution, e *draws) *outcomes {
	var table outcomes
	for i := range table {
		if e.met[i] {
			low := levelTopM + float64(i)*levelStepM
			table[i] = d.try(g, low, water.DesignLow(low))
		}
	}
	return &table
}

// levelCell returns the place of a level in the table.
func levelCell(lowM float64) int {
	i := (lowM-levelTopM)/levelStepM + 0.5
	return int(min(max(i, 0), levelSteps-1)) // cut first: an int holds no number of any size
}

// draws are the ensemble's random numbers, drawn once for all methods so that methods
// are compared on the same possible grounds.
type draws struct {
	levels [members][boresEach]int // place in the outcome tables
	met    [levelSteps]bool        // levels that occur at all
	shares [members][]float64      // share of each ground, adds up to 1
}

// draw draws the ensemble. The shares of the grounds follow a Dirichlet whose counts are
// the weights: with little evidence the members differ much, and the range is wide.
func draw(grounds []weighed, water level.Distribution, rng *rand.Rand) *draws {
	d := new(draws)
	for m := range members {
		field := rng.NormFloat64()
		for b := range boresEach {
			cell := levelCell(water.LowOf(field, stratum(b, rng)))
			d.levels[m][b], d.met[cell] = cell, true
		}
		d.shares[m] = dirichlet(grounds, rng)
	}
	return d
}

// stratum draws a standard Normal from the b-th of boresEach equal slices.
func stratum(b int, rng *rand.Rand) float64 {
	return distuv.UnitNormal.Quantile((float64(b) + max(rng.Float64(), 1e-9)) / boresEach)
}

// dirichlet draws again where every share falls below the least number that there is, as
// those of hardly any evidence may.
func dirichlet(grounds []weighed, rng *rand.Rand) []float64 {
	shares := make([]float64, len(grounds))
	total := 0.0
	for total == 0 {
		for i, g := range grounds {
			shares[i] = distuv.Gamma{Alpha: max(g.weight, 1e-3), Beta: 1, Src: rng}.Rand()
			total += shares[i]
		}
	}
	for i := range shares {
		shares[i] /= total
	}
	return shares
}

// chanceOf averages a method's outcomes over the ensemble.
func chanceOf(d *driller, tables []*outcomes, e *draws) MethodChance {
	out, perMember := chancesOf(d, tables, e)
	slices.Sort(perMember[:])
	// In a lopsided ensemble the mean lies outside the middle 80 %: the range then
	// reaches to it, so that no page shows a chance outside its own range.
	out.Lo = min(perMember[members/10], out.Chance)
	out.Hi = max(perMember[members-1-members/10], out.Chance)
	return out
}

// chancesOf is chanceOf without the range, and the chance in every member.
func chancesOf(d *driller, tables []*outcomes, e *draws) (out MethodChance, perMember [members]float64) {
	out.Method = d.Code
	var fails [failures]float64
	for m := range members {
		for g, table := range tables {
			p := e.shares[m][g] / boresEach
			for _, cell := range e.levels[m] {
				r := &table[cell]
				works := r.works[m%bands]
				perMember[m] += p * works
				if works < 1 {
					fails[r.fails] += p * (1 - works) / members
				}
			}
		}
		out.Chance += perMember[m] / members
	}
	out.Reasons = ranked(fails)
	return out, perMember
}

func ranked(fails [failures]float64) []Reason {
	var out []Reason
	for f, share := range fails {
		if share > 0 {
			out = append(out, Reason{failure(f).code(), share})
		}
	}
	slices.SortStableFunc(out, func(a, b Reason) int { return cmp.Compare(b.Share, a.Share) })
	return out
}
