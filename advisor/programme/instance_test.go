package programme_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/programme"
	"waterstrike/geo"
)

// made is a made-up problem: villages in rounds and districts, each with a few spots and
// methods whose chances, where there are scenarios, hang together by round.
type made struct {
	villages, options, rounds, districts, windows, scenarios int
	share                                                    float64 // of the villages that money and weeks are for
}

func (k made) problem(seed uint64) programme.Problem {
	rng := rand.New(rand.NewPCG(seed, 77))
	p := programme.Problem{Rules: programme.DefaultRules()}
	for r := range k.rounds {
		p.Rounds = append(p.Rounds, programme.Round{ID: fmt.Sprintf("r%03d", r), Cost: 50 + 250*rng.Float64(), Weeks: 0.1 + 0.4*rng.Float64()})
	}
	ground := make([][]float64, k.rounds+1) // of each round in each scenario
	for r := range ground {
		for range max(k.scenarios, 1) {
			ground[r] = append(ground[r], rng.NormFloat64())
		}
	}
	money, weeks := 0.0, 0.0
	for i := range k.villages {
		r := i % max(k.rounds, 1)
		v := programme.Village{
			ID: fmt.Sprintf("v%04d", i), District: fmt.Sprintf("d%d", i%max(k.districts, 1)),
			Unserved: 20 + rng.IntN(700), BaseM: geo.Some(1000 * float64(1+rng.IntN(60))),
		}
		if k.rounds > 0 {
			v.Round = p.Rounds[r].ID
		}
		for o := range k.options {
			v.Options = append(v.Options, k.option(rng, o, ground[r]))
		}
		money, weeks = money+v.Options[0].Cost, weeks+v.Options[0].Weeks
		p.Villages = append(p.Villages, v)
	}
	p.Budget = k.share * money
	for w := range k.windows {
		p.Windows = append(p.Windows, programme.Window{Name: fmt.Sprintf("w%d", w), Weeks: k.share * weeks * (0.6 + 0.8*rng.Float64()) / float64(k.windows)})
	}
	return p
}

func (k made) option(rng *rand.Rand, o int, ground []float64) programme.Option {
	methods := []geo.Method{"auger", "percussion", "sludging"}
	x := programme.Option{
		Spot: fmt.Sprintf("s%d", o/len(methods)), Method: methods[o%len(methods)], WalkM: 500 * rng.Float64(),
		People: []int{250, 250, 300, 150}[rng.IntN(4)], Cost: 600 + 1600*rng.Float64(), Weeks: 0.4 + 1.6*rng.Float64(),
	}
	if rng.IntN(3) > 0 {
		x.Risk = geo.Some(0.3 * rng.Float64())
	}
	if k.windows > 1 && rng.IntN(4) == 0 {
		x.Windows = []int{rng.IntN(k.windows)}
	}
	chance := 0.15 + 0.8*rng.Float64()
	if k.scenarios == 0 {
		x.Chances = []float64{chance}
		return x
	}
	for _, g := range ground {
		works := 0.0
		if rng.Float64()+0.2*g < chance {
			works = 1
		}
		x.Chances = append(x.Chances, works)
	}
	return x
}

func solved(t testing.TB, p programme.Problem) *programme.Programme {
	t.Helper()
	got, err := programme.Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	return got
}
