package strata

import "math"

// tally counts transitions into each cell from the one above, smoothed over depth.
type tally [Cells]matrix

// kernel is a Gaussian weight over cells, 1 at its middle.
type kernel struct {
	half int
	upTo []float64 // upTo[i] is the sum of the weights of offsets -half..i-half
}

func newKernel(sigmaCells float64) *kernel {
	k := &kernel{half: int(3 * sigmaCells)}
	sum := 0.0
	for i := -k.half; i <= k.half; i++ {
		sum += math.Exp(-0.5 * float64(i*i) / (sigmaCells * sigmaCells))
		k.upTo = append(k.upTo, sum)
	}
	return k
}

// sum is the weight of all offsets together.
func (k *kernel) sum() float64 { return k.upTo[2*k.half] }

// below is the weight of offsets up to i.
func (k *kernel) below(i int) float64 {
	if i < -k.half {
		return 0
	}
	return k.upTo[min(i, k.half)+k.half]
}

// add counts a transition from class j to class k into each of the cells from..to-1, those
// below so many cells left out.
func (t *tally) add(j, k, from, to int, weight float64, over *kernel, cells int) {
	for z := max(1, from-over.half); z < min(cells, to+over.half); z++ {
		t[z][j][k] += weight * (over.below(z-from) - over.below(z-to))
	}
}

// addLog counts the transitions of a log's described intervals. A thick layer is one
// interval that went on and ended once, however finely it was logged.
func (t *tally) addLog(intervals []interval, weight float64, over *kernel, cells int) {
	for i, layer := range intervals {
		k := int(layer.class - 1)
		t.add(k, k, layer.from+1, layer.to, weight, over, cells)
		if layer.joined {
			t.add(int(intervals[i-1].class-1), k, layer.from, layer.from+1, weight, over, cells)
		}
	}
}

// addRow counts the odds of the class below j in one cell.
func (t *tally) addRow(j, cell int, odds *row, weight float64, over *kernel, cells int) {
	for k, p := range odds {
		t.add(j, k, cell, cell+1, weight*p, over, cells)
	}
}

// chain returns the steps from counts and a prior worth so many counts,
//
//	T(j,k) = (n(j,k) + r prior(j,k)) / (Σₖ n(j,k) + r).
//
// Without counts the prior is returned unchanged.
func (t *tally) chain(prior []*matrix, worth float64, cells int) []*matrix {
	steps, out := make([]matrix, cells), make([]*matrix, cells)
	for z := 1; z < cells; z++ {
		for j := range steps[z] {
			mix(&steps[z][j], &t[z][j], &prior[z][j], worth)
		}
		out[z] = &steps[z]
	}
	return out
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
