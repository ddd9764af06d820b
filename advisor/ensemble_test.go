package advisor

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/level"
	"waterstrike/geo/soil"
)

// The chance and its reasons are exact: what very many members come to in the mean.
func TestChanceIsTheMeanOfMembers(t *testing.T) {
	water := level.Distribution{Mean: math.Log(6), FieldVar: 0.2, MicroVar: 0.1}
	grounds := []weighed{
		{*groundOf(t, soil.Clay, 3.0, soil.Sand, 30.0), 1.2},
		{*groundOf(t, soil.Clay, 6.0, soil.WeatheredRock, 3.0, soil.Rock, 30.0), 0.5},
		{*groundOf(t, soil.Sand, 4.0, soil.Hardpan, 2.0, soil.Sand, 34.0), 0.01},
		{*groundOf(t, soil.Clay, 40.0), 0.4},
	}
	d := drillerOf(t, "percussion")
	rng := rand.New(rand.NewPCG(63, 64))
	var said MethodChance
	sum, square, n := 0.0, 0.0, 0.0
	for range 300 {
		e := draw(grounds, water, rng)
		tables := make([]*outcomes, len(grounds))
		for g := range grounds {
			tables[g] = d.tabulate(&grounds[g].ground, e)
		}
		said = chanceOf(d, tables, e)
		for _, p := range e.perMember(tables) {
			sum, square, n = sum+p, square+p*p, n+1
		}
	}
	mean := sum / n
	se := math.Sqrt((square/n - mean*mean) / n)
	if math.Abs(said.Chance-mean) > 3*se || mean < 0.1 || mean > 0.9 {
		t.Errorf("a chance of %.4f, %v members have %.4f ± %.4f", said.Chance, n, mean, se)
	}
	total := said.Chance
	for _, r := range said.Reasons {
		total += r.Share
	}
	if math.Abs(total-1) > 1e-12 { // rounding over a few hundred sums
		t.Errorf("chance and reasons add up to %v", total)
	}
}

// Levels outside the table, however far, stand at its ends.
func TestLevelCellEnds(t *testing.T) {
	for low, want := range map[float64]int{
		-1e300: 0, -7: 0, levelTopM: 0, 0: 10, 0.3: 11, 44.9: 100, 60: levelSteps - 1,
		1e18: levelSteps - 1, 1e300: levelSteps - 1, math.Inf(1): levelSteps - 1,
	} {
		if got := levelCell(low); got != want {
			t.Errorf("a low of %v m stands at %d, want %d", low, got, want)
		}
	}
}

// Shares add up to 1 where the evidence is next to nothing: a draw may then give every
// ground less than a number can hold.
func TestSharesOfHardlyAnything(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for _, weights := range [][]float64{{0}, {1e-9, 1e-12}, {0, 1e-3, 0}, {5, 1e-6}} {
		grounds := make([]weighed, len(weights))
		for i, w := range weights {
			grounds[i].weight = w
		}
		for range 200 {
			sum := 0.0
			for _, share := range dirichlet(grounds, rng) {
				sum += share
			}
			if !(math.Abs(sum-1) < 1e-12) { // rounding over 3 sums
				t.Fatalf("weights %v: shares add up to %v", weights, sum)
			}
		}
	}
}

// No chance is above 1, though shares that add up to 1 may do so only but for rounding: who
// takes chances in, such as a season's choice, refuses what is above.
func TestNoChanceIsAboveOne(t *testing.T) {
	var sure outcomes
	for cell := range sure {
		for band := range sure[cell].works {
			sure[cell].works[band] = 1
		}
	}
	rng := rand.New(rand.NewPCG(65, 66))
	above := 0
	for n := 2; n < 40; n++ {
		tables := make([]*outcomes, n)
		for g := range tables {
			tables[g] = &sure
		}
		var e draws
		for m := range e.shares {
			e.shares[m] = make([]float64, n)
			sum := 0.0
			for g := range n {
				e.shares[m][g] = rng.Float64()
			}
			normalise(e.shares[m])
			for _, s := range e.shares[m] {
				sum += s
			}
			if sum > 1 {
				above++
			}
		}
		for m, p := range e.perMember(tables) {
			if p > 1 || p < 1-1e-12 { // rounding over 40 sums
				t.Fatalf("%d grounds, member %d: %.17g", n, m, p)
			}
		}
	}
	if above == 0 {
		t.Error("no shares add up to more than 1: nothing was tried")
	}
}
