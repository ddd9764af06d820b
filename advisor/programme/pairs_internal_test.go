package programme

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// TestPairsAgainstEnumeration: no two villages of a programme may be exchanged for one or
// two others at a gain once pairs were exchanged, by trying all of them.
func TestPairsAgainstEnumeration(t *testing.T) {
	for seed := range uint64(20) {
		p := fewVillages(seed)
		m := build(&p, 1)
		d := newDraft(m)
		var list []int32
		for j := range m.cols {
			list = append(list, int32(j))
		}
		d.spend(list)
		before := d.score()
		d.exchangePairs(list)
		after := d.score()
		if !d.fits() || after < before-1e-9 { // sums in another order
			t.Fatalf("seed %d: %g after %g, fits %v", seed, after, before, d.fits())
		}
		for _, u := range d.loose() {
			for _, v := range d.loose() {
				for _, a := range list {
					for _, b := range list {
						x := from(m, d.pick)
						x.set(u, left)
						x.set(v, left)
						x.set(m.cols[a].village, a)
						x.set(m.cols[b].village, b)
						if u != v && d.pick[m.cols[a].village] < 0 && d.pick[m.cols[b].village] < 0 && x.fits() && x.score() > after+1e-6 {
							t.Fatalf("seed %d: %d and %d for columns %d and %d give %g, not %g", seed, u, v, a, b, x.score(), after)
						}
					}
				}
			}
		}
	}
}

// fewVillages is ten villages of one or two spots, money and weeks for some four.
func fewVillages(seed uint64) Problem {
	rng := rand.New(rand.NewPCG(seed, 3))
	p := Problem{
		Budget: 4000, Windows: []Window{{Name: "w", Weeks: 4}}, Rules: Rules{WalkM: 500, Effort: 1},
		Rounds: []Round{{ID: "a", Cost: 200, Weeks: 0.3}, {ID: "b", Cost: 100, Weeks: 0.2}},
	}
	for i := range 10 {
		v := Village{ID: fmt.Sprint(i), Round: []string{"a", "b", ""}[i%3], Unserved: 50 + rng.IntN(300)}
		for range 1 + rng.IntN(2) {
			v.Options = append(v.Options, Option{
				Spot: "s", Method: "auger", Chances: []float64{0.3 + 0.6*rng.Float64()}, People: 250, Cost: 600 + 900*rng.Float64(), Weeks: 0.4 + rng.Float64(),
			})
		}
		p.Villages = append(p.Villages, v)
	}
	return p
}
