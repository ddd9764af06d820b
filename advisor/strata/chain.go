package strata

import (
	"math/rand/v2"

	"waterstrike/geo/soil"
)

// chain is a distribution of columns: the odds of the first cell, and for every further
// cell z the matrix step[z] from the class above; nil where the same class goes on.
// step[0] is not used.
type chain struct {
	first row
	step  []*matrix
}

// odds returns the odds of every cell.
func (c *chain) odds() []row {
	out := make([]row, len(c.step))
	out[0] = c.first
	for z := 1; z < len(out); z++ {
		if c.step[z] == nil {
			out[z] = out[z-1]
			continue
		}
		out[z] = c.step[z].forward(&out[z-1])
	}
	return out
}

// draw fills a column with one draw.
func (c *chain) draw(column []soil.Class, rng *rand.Rand) {
	column[0] = drawClass(&c.first, rng)
	for z := 1; z < len(c.step); z++ {
		column[z] = column[z-1]
		if c.step[z] != nil {
			column[z] = drawClass(&c.step[z][column[z-1]-1], rng)
		}
	}
}

func drawClass(odds *row, rng *rand.Rand) soil.Class {
	u := rng.Float64()
	for k, p := range odds {
		if u -= p; u < 0 {
			return soil.Class(k + 1)
		}
	}
	return heaviest(*odds) // rounding left nothing over
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
//     is with likelihood 0.
//   - Source: Rabiner (1989), eqs. 24-25, each row scaled.
//   - Checked by: TestGivenIsBruteForce.
func (c *chain) given(likelihood []row) (posterior chain, evidence float64) {
	posterior = chain{step: append([]*matrix(nil), c.step...)}
	evidence = 1
	below := flat()
	for z := min(len(likelihood), len(c.step)) - 1; z >= 0; z-- {
		for k := range below {
			below[k] *= likelihood[z][k]
		}
		if z == 0 {
			break
		}
		var above row
		t := c.matrixAt(z)
		for j := range t {
			for k := range t[j] {
				t[j][k] *= below[k]
			}
			above[j] = normalise(&t[j])
		}
		posterior.step[z] = &t
		evidence *= normalise(&above)
		below = above
	}
	for k := range below {
		posterior.first[k] = c.first[k] * below[k]
	}
	evidence *= normalise(&posterior.first)
	if evidence == 0 {
		return *c, 0
	}
	return posterior, evidence
}

// matrixAt returns a copy of a step.
func (c *chain) matrixAt(z int) (t matrix) {
	if c.step[z] != nil {
		return *c.step[z]
	}
	for k := range t {
		t[k][k] = 1
	}
	return t
}

// flat is the likelihood of nothing known.
func flat() (l row) {
	for k := range l {
		l[k] = 1
	}
	return l
}

// likeliest returns the most probable column as a whole.
//
//   - Source: Viterbi (1967), in logarithms' stead scaled by each cell's best.
//   - Checked by: TestLikeliestIsBruteForce.
func (c *chain) likeliest() []soil.Class {
	n := len(c.step)
	from := make([][soil.Count]uint8, n)
	best := c.first
	for z := 1; z < n; z++ {
		t := c.matrixAt(z)
		var next row
		for j, p := range best {
			for k, q := range &t[j] {
				if p*q > next[k] {
					next[k], from[z][k] = p*q, uint8(j)
				}
			}
		}
		normalise(&next)
		best = next
	}
	out := make([]soil.Class, n)
	out[n-1] = heaviest(best)
	for z := n - 1; z > 0; z-- {
		out[z-1] = soil.Class(from[z][out[z]-1] + 1)
	}
	return out
}
