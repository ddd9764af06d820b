package strata

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/geo/soil"
)

// someChain draws a chain of a few cells, with one place where the class goes on.
func someChain(cells int, rng *rand.Rand) chain {
	odds := func() (r row) {
		for k := range r {
			r[k] = rng.ExpFloat64()
		}
		normalise(&r)
		return r
	}
	c := chain{first: odds(), step: make([]*matrix, cells)}
	for z := 1; z < cells; z++ {
		if z == 2 {
			continue
		}
		c.step[z] = new(matrix)
		for j := range c.step[z] {
			c.step[z][j] = odds()
		}
	}
	return c
}

// columns calls fn with every column of a chain and its probability.
func columns(c *chain, fn func(column []int, p float64)) {
	column := make([]int, len(c.step))
	var down func(z int, p float64)
	down = func(z int, p float64) {
		if z == len(column) {
			fn(column, p)
			return
		}
		for k := range soil.Count {
			q := c.first[k]
			if z > 0 {
				t := c.matrixAt(z)
				q = t[column[z-1]][k]
			}
			if q > 0 {
				column[z] = k
				down(z+1, p*q)
			}
		}
	}
	down(0, 1)
}

func agree(t *testing.T, what string, got []row, want []row) {
	t.Helper()
	for z := range want {
		for k := range want[z] {
			if math.Abs(got[z][k]-want[z][k]) > 1e-12 { // rounding over 9^4 products
				t.Fatalf("%s: cell %d class %d is %v, enumeration says %v", what, z, k, got[z][k], want[z][k])
			}
		}
	}
}

// Odds before and after likelihoods, and the likelihood itself, agree with the sum over all
// columns.
func TestGivenIsBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		c := someChain(4, rng)
		likelihood := make([]row, 3)
		for z := range likelihood {
			for k := range likelihood[z] {
				likelihood[z][k] = rng.Float64()
			}
		}
		before, after, total := make([]row, 4), make([]row, 4), 0.0
		columns(&c, func(column []int, p float64) {
			l := p
			for z := range likelihood {
				l *= likelihood[z][column[z]]
			}
			total += l
			for z, k := range column {
				before[z][k] += p
				after[z][k] += l
			}
		})
		for z := range after {
			normalise(&after[z])
		}
		posterior, evidence, _ := c.given(likelihood, nil)
		if math.Abs(evidence-total) > 1e-12 {
			t.Errorf("evidence %v, enumeration says %v", evidence, total)
		}
		agree(t, "odds", c.odds(), before)
		agree(t, "posterior odds", posterior.odds(), after)
	}
	c := someChain(4, rng)
	if same, evidence, _ := c.given(make([]row, 2), nil); evidence != 0 || same.first != c.first {
		t.Errorf("what cannot be has likelihood %v", evidence)
	}
}

// A chain that ends like another takes over that end's pass, and comes out the same as alone.
func TestGivenAfterAnother(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	local := someChain(6, rng)
	for own := range 6 {
		c := someChain(6, rng)
		c.step[min(2, own)] = nil // the same class goes on
		copy(c.step[own+1:], local.step[own+1:])
		for seen := range 7 {
			likelihood := make([]row, seen)
			for z := range likelihood {
				for k := range likelihood[z] {
					likelihood[z][k] = rng.Float64()
				}
			}
			_, _, kept := local.given(likelihood, nil)
			alone, l, _ := c.given(likelihood, nil)
			after, m, _ := c.given(likelihood, kept)
			if l != m {
				t.Errorf("%d own cells, %d seen: evidence %v alone, %v after another", own, seen, l, m)
			}
			agree(t, "posterior odds", after.odds(), alone.odds())
		}
	}
}

func TestLikeliestIsBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 5 {
		c := someChain(4, rng)
		best, want := 0.0, make([]int, 4)
		columns(&c, func(column []int, p float64) {
			if p > best {
				best = p
				copy(want, column)
			}
		})
		for z, class := range c.likeliest() {
			if int(class)-1 != want[z] {
				t.Fatalf("cell %d is %v, enumeration says %v", z, class, soil.Class(want[z]+1))
			}
		}
	}
}

func TestDrawsOfAChainHaveItsOdds(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	c := someChain(4, rng)
	const n = 40000
	counts := make([]row, 4)
	column := make([]soil.Class, 4)
	for range n {
		c.draw(column, rng)
		for z, class := range column {
			counts[z][class-1]++
		}
	}
	for z, odds := range c.odds() {
		for k, p := range odds {
			if se := math.Sqrt(p * (1 - p) / n); math.Abs(counts[z][k]/n-p) > 4.5*se { // 36 draws: one in 4,000 goes beyond
				t.Errorf("cell %d class %d: drawn %v, odds %v", z, k, counts[z][k]/n, p)
			}
		}
	}
}

// Two steps of the worked example of a chain of four lithologies: Davis, Statistics and
// data analysis in geology, p. 173-174 (the book's own rounding of .64 for the first entry
// of row 1 is .65 when recalculated).
func TestTwoStepsOfDavis(t *testing.T) {
	p := [4][4]float64{{0.78, 0, 0.22, 0}, {0, 0.71, 0.29, 0}, {0.18, 0.07, 0.64, 0.11}, {0, 0, 0.60, 0.40}}
	want := [4][4]float64{{0.65, 0.02, 0.31, 0.02}, {0.05, 0.52, 0.39, 0.03}, {0.26, 0.09, 0.54, 0.11}, {0.11, 0.04, 0.62, 0.23}}
	var step matrix
	for j := range p {
		copy(step[j][:], p[j][:])
	}
	for j := range p {
		c := chain{step: []*matrix{nil, &step, &step}}
		c.first[j] = 1
		for k, q := range c.odds()[2][:4] {
			if math.Abs(q-want[j][k]) > 0.0051 { // printed to two digits
				t.Errorf("row %d, column %d: %.4f, the book has %.2f", j+1, k+1, q, want[j][k])
			}
		}
	}
}

// proper fails where a row of a step leaves [0,1] or does not add up to 1.
func proper(t *testing.T, steps []*matrix) {
	t.Helper()
	for z, step := range steps[1:] {
		for j := range step {
			sum := 0.0
			for _, p := range step[j] {
				if p < 0 || p > 1 {
					t.Fatalf("cell %d: transition probability %v", z+1, p)
				}
				sum += p
			}
			if math.Abs(sum-1) > 1e-12 { // rounding over nine terms
				t.Fatalf("cell %d: a row adds up to %v", z+1, sum)
			}
		}
	}
}

// Whatever logs there are, and however they weigh, steps stay probabilities, and so do the
// rates of refusal.
func TestStepsStayProbabilities(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 20 {
		var logs []Log
		var layers [][]interval
		var near []Near
		for range 6 {
			log := Log{Refused: rng.IntN(2) == 0}
			for range rng.IntN(Cells + 10) {
				log.Cells = append(log.Cells, soil.Class(rng.IntN(soil.Count+1)))
			}
			logs, layers = append(logs, log), append(layers, log.intervals())
			near = append(near, Near{Log: log, DistanceM: 5000 * rng.ExpFloat64()})
		}
		r := regionOf(logs, layers)
		proper(t, r.step)
		var read []*reading
		for _, l := range layers {
			read = append(read, &reading{layers: l})
		}
		a := &around{near, read, make([]float64, len(near))}
		proper(t, r.local(r.count(a, a.weights(1000, 0), newKernels(everywhere(4)), Cells), everywhere(0.3)).step)
		for method, of := range r.refusals {
			for _, p := range of {
				if p <= 0 || p >= 1 {
					t.Fatalf("%q is refused in a share of %v", method, p)
				}
			}
		}
	}
}

// A thick layer counts as one that ended once, however finely it was logged: the chance to
// end in a cell is one over its cells.
func TestHabitsCountIntervals(t *testing.T) {
	var layers [][]interval
	for range 400 {
		log := Log{}
		for i := range 30 {
			log.Cells = append(log.Cells, []soil.Class{soil.Clay, soil.Sand}[i/10%2])
		}
		layers = append(layers, log.intervals())
	}
	got := habits(layers)[soil.Sand-1][soil.Sand-1]
	if math.Abs(got-0.9) > 0.002 { // 401 ends in 4,006 cells, priors included
		t.Errorf("sand of 10 cells goes on with %v, want 0.9", got)
	}
}
