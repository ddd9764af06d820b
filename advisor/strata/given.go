package strata

// passed is a backward pass that was kept: chains with the same steps from some cell on
// need not repeat that part of it.
type passed struct {
	of       []*matrix // the steps that were gone through
	given    []*matrix // what became of them
	below    []row     // of each cell, the likelihood of all below it by the class in it, scaled
	evidence []float64 // of each cell, what was scaled away below it
}

// given returns the chain after likelihoods of its upper cells are known, and how likely
// they were,
//
//	T'(j,k) = T(j,k) l(k) b(k) / Σₖ T(j,k) l(k) b(k),
//
// with b the likelihood of all below: the backward pass.
//
//   - Shapes: likelihood[z] belongs to cell z; cells below the last one are not known.
//   - Domain: likelihoods of at least 0; where none is possible the chain is returned as it
//     is with likelihood 0. The pass kept is nil or one with the same likelihoods.
//   - Source: Rabiner (1989), eqs. 24-25, each row scaled.
//   - Checked by: TestGivenIsBruteForce, TestGivenAfterAnother.
func (c *chain) given(likelihood []row, kept *passed) (posterior chain, evidence float64, now *passed) {
	last := min(len(likelihood), len(c.step)) - 1
	now = &passed{of: c.step, given: append([]*matrix(nil), c.step...), below: make([]row, last+1), evidence: make([]float64, last+1)}
	from, below, evidence := last, flat(), 1.0
	if kept != nil && last >= 0 {
		if from = min(ownCells(c.step, kept.of), last); from < last {
			copy(now.given[from+1:], kept.given[from+1:])
		}
		below, evidence = kept.below[from], kept.evidence[from]
	}
	steps := make([]matrix, 0, c.turns(from))
	for z := from; z >= 0; z-- {
		now.below[z], now.evidence[z] = below, evidence
		for k := range below {
			below[k] *= likelihood[z][k]
		}
		if z > 0 {
			now.given[z], below = c.back(z, &below, &steps)
			evidence *= normalise(&below)
		}
	}
	posterior.step = now.given
	for k := range below {
		posterior.first[k] = c.first[k] * below[k]
	}
	evidence *= normalise(&posterior.first)
	if evidence == 0 {
		return *c, 0, now
	}
	return posterior, evidence, now
}

// turns is how many of the steps down to a cell may change the class.
func (c *chain) turns(to int) (n int) {
	for _, step := range c.step[:to+1] {
		if step != nil {
			n++
		}
	}
	return n
}

// back weighs one step, which it puts with others, and returns with it the likelihood by the
// class above. Where the same class goes on there is nothing to weigh.
func (c *chain) back(z int, below *row, others *[]matrix) (step *matrix, above row) {
	if c.step[z] == nil {
		return nil, *below
	}
	*others = append(*others, matrix{})
	step = &(*others)[len(*others)-1]
	for j := range step {
		for k, p := range &c.step[z][j] {
			step[j][k] = p * below[k]
		}
		above[j] = normalise(&step[j])
	}
	return step, above
}

// ownCells returns the last cell whose step is not that of another chain; all below are the
// same ones. Every chain has at least its first cell for itself.
func ownCells(step, of []*matrix) int {
	z := len(step) - 1
	for z > 0 && step[z] == of[z] {
		z--
	}
	return max(z, 0)
}
