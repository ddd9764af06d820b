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
