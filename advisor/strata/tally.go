package strata

import (
	"math"

	"waterstrike/geo/soil"
)

// tally counts transitions into each cell from the one above: by the class above, by that
// of the cell, by cell.
type tally [soil.Count][soil.Count][Cells]float64

// kernel is a Gaussian weight over cells, 1 at its middle.
type kernel struct {
	half   int
	weight []float64 // of the offsets -half..half
}

func newKernel(sigmaCells float64) *kernel {
	k := &kernel{half: int(3 * sigmaCells)}
	for i := -k.half; i <= k.half; i++ {
		k.weight = append(k.weight, math.Exp(-0.5*float64(i*i)/(sigmaCells*sigmaCells)))
	}
	return k
}

// kernels are those that the counts of each range of depth are spread by.
type kernels [len(byDepth{})]*kernel

func newKernels(sigmaCells byDepth) (k kernels) {
	for d, sigma := range sigmaCells {
		k[d] = newKernel(sigma)
	}
	return k
}

// worth turns logs into the counts that they come to.
func (k *kernels) worth(logs byDepth) byDepth {
	for d := range logs {
		logs[d] *= k[d].sum()
	}
	return logs
}

// sum is the weight of all offsets together.
func (k *kernel) sum() (sum float64) {
	for _, w := range k.weight {
		sum += w
	}
	return sum
}

// add counts a transition from class j to class k into each of the cells from..to-1.
func (t *tally) add(j, k, from, to int, weight float64) {
	into := &t[j][k]
	for z := from; z < min(to, Cells); z++ {
		into[z] += weight
	}
}

// addLog counts the transitions of a log's described intervals. A thick layer is one
// interval that went on and ended once, however finely it was logged.
func (t *tally) addLog(intervals []interval, weight float64) {
	for i, layer := range intervals {
		k := int(layer.class - 1)
		t.add(k, k, layer.from+1, layer.to, weight)
		if layer.joined {
			t.add(int(intervals[i-1].class-1), k, layer.from, layer.from+1, weight)
		}
	}
}

// addRow counts the odds of the class below j in one cell.
func (t *tally) addRow(j, cell int, odds *row, weight float64) {
	for k, p := range odds {
		t[j][k][cell] += weight * p
	}
}

// smooth spreads the counts over depth, for the first so many cells.
func (t *tally) smooth(over kernels, cells int) {
	for j := range t {
		for k := range t[j] {
			counts := t[j][k]
			if counts == ([Cells]float64{}) {
				continue
			}
			t[j][k] = [Cells]float64{}
			for cell, n := range &counts {
				if n > 0 {
					over[rangeOf(cell)].spread(&t[j][k], cell, n, cells)
				}
			}
		}
	}
}

// spread adds so many counts in one cell to the cells around it, but for the first, into
// which nothing steps.
func (k *kernel) spread(out *[Cells]float64, cell int, n float64, cells int) {
	from, to := max(1, cell-k.half), min(cells, cell+k.half+1)
	if from >= to {
		return
	}
	into := out[from:to]
	for i, weight := range k.weight[from-cell+k.half:][:len(into)] {
		into[i] += n * weight
	}
}

// chain returns the steps from counts and a prior worth so many counts by depth,
//
//	T(j,k) = (n(j,k) + r prior(j,k)) / (Σₖ n(j,k) + r).
//
// Without counts the prior is returned unchanged.
func (t *tally) chain(prior []*matrix, worth byDepth, cells int) []*matrix {
	steps, out := make([]matrix, cells), make([]*matrix, cells)
	for z := 1; z < cells; z++ {
		for j := range steps[z] {
			mix(&steps[z][j], t.at(j, z), &prior[z][j], worth[rangeOf(z)])
		}
		out[z] = &steps[z]
	}
	return out
}

// at returns the counts into a cell from a class.
func (t *tally) at(j, cell int) *row {
	var out row
	for k := range out {
		out[k] = t[j][k][cell]
	}
	return &out
}

func mix(out, counts, prior *row, worth float64) {
	total := 0.0
	for _, n := range counts {
		total += n
	}
	if total == 0 {
		*out = *prior
		return
	}
	for k := range out {
		out[k] = (counts[k] + worth*prior[k]) / (total + worth)
	}
}
