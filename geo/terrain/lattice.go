package terrain

import (
	"fmt"
	"math"
	"slices"
)

// lattice is a row of numbers with equal steps.
type lattice struct {
	first, step float64
	n           int
}

// jitter is how far from its place a number may stand, in steps: coordinates are often
// rounded to few digits.
const jitter = 0.1

// findLattice finds the lattice that one coordinate of every point stands on: the
// smallest step met, made exact over the whole width.
func findLattice(list [][3]float64, axis int) (lattice, error) {
	values := make([]float64, len(list))
	for i := range list {
		values[i] = list[i][axis]
	}
	slices.Sort(values)
	first, last := values[0], values[len(values)-1]
	step := smallestStep(values, 1e-6*(last-first))
	if step == 0 {
		return lattice{}, fmt.Errorf("all stand at %v", first)
	}
	n := math.Round((last - first) / step)
	if n >= MaxCells {
		return lattice{}, fmt.Errorf("steps of %v over %v", step, last-first)
	}
	l := lattice{first, (last - first) / n, int(n) + 1}
	for _, v := range values {
		at := (v - first) / l.step
		if math.Abs(at-math.Round(at)) > jitter {
			return lattice{}, fmt.Errorf("%v is no whole number of steps of %v from %v", v, l.step, first)
		}
	}
	return l, nil
}

// smallestStep is the smallest gap between sorted values; gaps up to same are none.
func smallestStep(values []float64, same float64) float64 {
	least := 0.0
	start := values[0]
	for _, v := range values[1:] {
		if v-start > same {
			if least == 0 || v-start < least {
				least = v - start
			}
			start = v
		}
	}
	return least
}

// place is the number of the step that v stands at.
func (l lattice) place(v float64) int { return int(math.Round((v - l.first) / l.step)) }
