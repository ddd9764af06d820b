package strata

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/geo/soil"
)

// What a cut gains is the sum of squares about one mean less those about two, worked out
// anew; a log that does not tell counts for neither.
func TestGainsByHand(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	g := grower{responses: [][]float64{make([]float64, 20), make([]float64, 20)}}
	sorted := rng.Perm(20)
	for _, y := range g.responses {
		for i := range y {
			if y[i] = rng.Float64(); i%7 == 3 {
				y[i] = math.NaN()
			}
		}
	}
	squares := func(y []float64, of []int) (out float64) {
		sum, n := 0.0, 0.0
		for _, i := range of {
			if !math.IsNaN(y[i]) {
				sum, n = sum+y[i], n+1
			}
		}
		for _, i := range of {
			if !math.IsNaN(y[i]) {
				out += (y[i] - sum/n) * (y[i] - sum/n)
			}
		}
		return out
	}
	gains := g.gains(sorted)
	for n := 1; n < len(sorted); n++ {
		want := 0.0
		for _, y := range g.responses {
			want += squares(y, sorted) - squares(y, sorted[:n]) - squares(y, sorted[n:])
		}
		if math.Abs(gains[n]-want) > 1e-12 {
			t.Errorf("a cut behind %d gains %v, want %v", n, gains[n], want)
		}
	}
}

// Ground that changes with the first term alone, at 0: every tree that may choose this term
// cuts there, places on one side share most leaves and none with the other side's; a tree
// that has seen a log does not count for it.
func TestLeavesByHand(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	logs := make([]Log, 100)
	for i := range logs {
		logs[i] = Log{Cells: make([]soil.Class, 20), Setting: Setting{rng.Float64() - 0.5}}
		for z := range logs[i].Cells {
			logs[i].Cells[z] = soil.Clay
			if logs[i].Setting[0] > 0 {
				logs[i].Cells[z] = soil.Sand
			}
		}
	}
	f := forestOf(logs)
	low, lower, high := f.at(Setting{-0.1}), f.at(Setting{-0.4}), f.at(Setting{0.1})
	if same, other := apart(low, lower), apart(low, high); same != 0 || math.Abs(other-math.Log(trees+1)) > 1e-12 {
		t.Errorf("apart by %v and %v, want 0 and the logarithm of %d", same, other, trees+1)
	}
	if d := apart(low, nil); d != 0 {
		t.Errorf("a place of unknown land stands apart by %v", d)
	}
	own, n := f.without(3, logs[3].Setting), 0
	for tree, leaf := range own {
		if (leaf == unseen) != f.seen[3][tree] {
			t.Fatalf("tree %d has seen the log: %v, its leaf is %d", tree, f.seen[3][tree], leaf)
		}
		if leaf == unseen {
			n++
		}
	}
	if n < trees/3 || n > trees*2/3 {
		t.Errorf("%d of %d trees have seen a log, want about half", n, trees)
	}
}

// Lands that differ by rounding alone are one land, which no cut parts.
func TestLandsAHairApart(t *testing.T) {
	logs := make([]Log, 100)
	for i := range logs {
		land, class := 0.1, soil.Clay
		if i%2 > 0 {
			land, class = math.Nextafter(0.1, 1), soil.Sand
		}
		logs[i] = Log{Cells: slices.Repeat([]soil.Class{class}, 20), Setting: Setting{land}}
	}
	f := forestOf(logs)
	if d := apart(f.at(logs[0].Setting), f.at(logs[1].Setting)); d != 0 {
		t.Errorf("apart by %v", d)
	}
}
