package programme

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// By hand: of ten the worst fifth is the two least; of seven it is 1.4 cases, the least
// and four tenths of the next: (1 + 0.4·2) / 1.4.
func TestWorstMean(t *testing.T) {
	for _, c := range []struct {
		totals []float64
		want   float64
	}{
		{[]float64{9, 3, 5, 1, 8, 7, 6, 4, 10, 2}, 1.5},
		{[]float64{7, 6, 5, 4, 3, 2, 1}, 1.8 / 1.4},
		{[]float64{5}, 5},
		{[]float64{4, 4, 4, 4, 4}, 4},
	} {
		if got := worstMean(c.totals, make([]float64, len(c.totals))); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v: %g, want %g", c.totals, got, c.want)
		}
	}
}

// The worst fifth is the least that weights can make of the totals: its own weights reach
// it, and no others go below.
func TestWorstMeanIsTheLeast(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		totals := make([]float64, 5+rng.IntN(30))
		for s := range totals {
			totals[s] = rng.NormFloat64()
		}
		want := worstMean(totals, make([]float64, len(totals)))
		if got := weighed(totals, worstOf(totals)); math.Abs(got-want) > 1e-12 {
			t.Fatalf("own weights give %g, want %g", got, want)
		}
		other := make([]float64, len(totals))
		for s := range other {
			other[s] = rng.Float64()
		}
		ontoWeights(other)
		if got := weighed(totals, other); got < want-1e-12 {
			t.Fatalf("weights %v give %g, less than %g", other, got, want)
		}
	}
}

func weighed(totals, weights []float64) float64 {
	sum := 0.0
	for s, z := range totals {
		sum += weights[s] * z
	}
	return sum
}

// A projection lands where it may and is nearer than any other place it may land.
func TestOntoWeights(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 4))
	for range 100 {
		n := 5 + rng.IntN(20)
		x, y := make([]float64, n), make([]float64, n)
		for s := range x {
			x[s], y[s] = rng.NormFloat64(), rng.Float64()
		}
		from := slices.Clone(x)
		ontoWeights(x)
		ontoWeights(y)
		sum, most := 0.0, 1/(worstShare*float64(n))
		near, far := 0.0, 0.0
		for s := range x {
			sum += x[s]
			if x[s] < 0 || x[s] > most {
				t.Fatalf("weight %g, at most %g", x[s], most)
			}
			near += (x[s] - from[s]) * (x[s] - from[s])
			far += (y[s] - from[s]) * (y[s] - from[s])
		}
		if math.Abs(sum-1) > 1e-9 || near > far+1e-9 {
			t.Fatalf("sum %g, squared distance %g, elsewhere %g", sum, near, far)
		}
	}
}

// What a draft would hold after an exchange is what it holds once it is made.
func TestDraftAfter(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 4))
	p := Problem{Budget: 50, Rules: DefaultRules(), Windows: []Window{{Weeks: 9}, {Weeks: 7}}, Rounds: []Round{{"a", 2, 1}, {"b", 3, 2}}}
	for i := range 8 {
		v := Village{ID: string(rune('a' + i)), Round: []string{"a", "b", ""}[i%3], Unserved: 100}
		for range 3 {
			v.Options = append(v.Options, Option{Spot: string(rune('a' + len(v.Options))), Chances: []float64{0.5 + 0.4*rng.Float64()}, People: 100, Cost: 5 * rng.Float64(), Weeks: 2 * rng.Float64()})
		}
		p.Villages = append(p.Villages, v)
	}
	m := build(&p, 1)
	d := newDraft(m)
	for range 3000 {
		v := int32(rng.IntN(len(m.of)))
		j := m.of[v][0] - 1 + int32(rng.IntN(int(m.of[v][1]-m.of[v][0])+1))
		if j < m.of[v][0] {
			j = left
		}
		var want []float64
		for row := range d.rows {
			want = append(want, d.after(v, j, row))
		}
		d.set(v, j)
		fresh := from(m, d.pick)
		for row, used := range d.rows {
			if math.Abs(used-want[row]) > 1e-12 || math.Abs(used-fresh.rows[row]) > 1e-12 {
				t.Fatalf("row %d: %g told, %g held, %g afresh", row, want[row], used, fresh.rows[row])
			}
		}
	}
}
