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

// tabulate drills one ground at every level that may be.
func (d *driller) tabulate(g *ground, e *draws) *outcomes {
	return d.tabulateOn(g, e, func(lowM float64) float64 { return lowM })
}

// tabulateOn drills it on a day when water stands where onDay puts it by its low.
func (d *driller) tabulateOn(g *ground, e *draws, onDay func(lowM float64) float64) *outcomes {
	var table outcomes
	x := d.in(g)
	for i := range table {
		if e.odds[i] > 0 {
			table[i] = x.at(onDay(levelTopM+float64(i)*levelStepM), e.designM[i])
		}
	}
	return &table
}

// levelCell returns the place of a level in the table.
func levelCell(lowM float64) int {
	i := (lowM-levelTopM)/levelStepM + 0.5
	return int(min(max(i, 0), levelSteps-1)) // cut first: an int holds no number of any size
}

// draws are what all methods are compared on: the same possible grounds and levels. Odds
// and weights are exact; the members, drawn at random, tell how far the chance is known.
type draws struct {
	odds    [levelSteps]float64     // of each level, adds up to 1
	designM [levelSteps]float64     // low of the worst year in ten with it
	weights []float64               // of each ground, adds up to 1
	levels  [members][boresEach]int // place in the outcome tables
	shares  [members][]float64      // of each ground, adds up to 1; their mean are the weights
}

// draw draws the ensemble. The shares of the grounds follow a Dirichlet whose counts are
// the weights: with little evidence the members differ much, and the range is wide.
func draw(grounds []weighed, water level.Distribution, rng *rand.Rand) *draws {
	d := newDraws(grounds, water)
	for m := range members {
		field := rng.NormFloat64()
		for b := range boresEach {
			d.meet(m, b, water.LowOf(field, stratum(b, rng)))
		}
		d.shares[m] = dirichlet(grounds, rng)
	}
	normalise(d.odds[:])
	return d
}

// newDraws is an ensemble without members.
func newDraws(grounds []weighed, water level.Distribution) *draws {
	d := &draws{odds: levelOdds(water)}
	for i := range d.designM {
		d.designM[i] = water.DesignLow(levelTopM + float64(i)*levelStepM)
	}
	for _, g := range grounds {
		d.weights = append(d.weights, max(g.weight, leastWeight))
	}
	normalise(d.weights)
	return d
}

// meet gives a bore of a member its level, which then has to stand in the tables.
func (d *draws) meet(m, b int, lowM float64) {
	cell := levelCell(lowM)
	d.levels[m][b], d.odds[cell] = cell, max(d.odds[cell], leastOdds)
}

// leastOdds are those of a level below which it is left out.
const leastOdds = 1e-4

// levelOdds returns how likely the water stands at each level of the tables.
func levelOdds(water level.Distribution) (odds [levelSteps]float64) {
	oddsBetween(&odds, water, 0, levelSteps-1)
	return odds
}

// oddsBetween fills in the odds of some levels, the last one included.
func oddsBetween(odds *[levelSteps]float64, water level.Distribution, from, to int) {
	upTo := func(i int) float64 {
		switch i {
		case -1:
			return 0
		case levelSteps - 1:
			return 1
		}
		return water.Within(levelTopM + (float64(i)+0.5)*levelStepM)
	}
	above := upTo(from - 1)
	for i := from; i <= to && above <= 1-leastOdds; i++ {
		below := upTo(i)
		if below-above >= leastOdds {
			odds[i] = below - above
		}
		above = below
	}
}

// normalise makes shares add up to 1.
func normalise(shares []float64) {
	total := 0.0
	for _, s := range shares {
		total += s
	}
	for i := range shares {
		shares[i] /= total
	}
}

// leastWeight keeps a ground of hardly any evidence possible.
const leastWeight = 1e-3

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
			shares[i] = distuv.Gamma{Alpha: max(g.weight, leastWeight), Beta: 1, Src: rng}.Rand()
			total += shares[i]
		}
	}
	normalise(shares)
	return shares
}

// chanceOf averages a method's outcomes over grounds and levels; its range is that of the
// members.
func chanceOf(d *driller, tables []*outcomes, e *draws) MethodChance {
	out := MethodChance{Method: d.Code}
	var fails [failures]float64
	for g, table := range tables {
		for cell, odds := range e.odds {
			if odds == 0 {
				continue
			}
			p, works := e.weights[g]*odds, table[cell].chance()
			out.Chance += p * works
			if works < 1 {
				fails[table[cell].fails] += p * (1 - works)
			}
		}
	}
	out.Chance = min(out.Chance, 1)
	perMember := e.perMember(tables)
	out.Lo, out.Hi = inner(perMember[:], out.Chance)
	out.Reasons = ranked(fails)
	return out
}

// inner returns the middle 80 % of the chances in the members, which it sorts. In a lopsided
// ensemble the mean lies outside: the range then reaches to it, so that no page shows a
// chance outside its own range.
func inner(perMember []float64, mean float64) (lo, hi float64) {
	slices.Sort(perMember)
	return min(perMember[members/10], mean), max(perMember[members-1-members/10], mean)
}

// perMember returns the chance in each member of the ensemble.
func (e *draws) perMember(tables []*outcomes) (out [members]float64) {
	for m := range out {
		for g, table := range tables {
			works := 0.0
			for _, cell := range e.levels[m] {
				works += table[cell].works[m%bands]
			}
			out[m] += e.shares[m][g] * works / boresEach
		}
		out[m] = min(out[m], 1) // shares add up to 1 but for rounding
	}
	return out
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
