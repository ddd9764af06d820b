package advisor

import (
	"math"
	"math/rand/v2"
	"testing"
)

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
