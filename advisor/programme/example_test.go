package programme_test

import (
	"fmt"

	"waterstrike/advisor/programme"
)

// Which of three villages to drill in with money for two.
func ExampleSolve() {
	attempt := func(chance float64) []programme.Option {
		return []programme.Option{{Spot: "by the school", Method: "auger", Chances: []float64{chance}, People: 250, Cost: 900, Weeks: 1}}
	}
	p, err := programme.Solve(programme.Problem{
		Villages: []programme.Village{
			{ID: "hill", Unserved: 400, Options: attempt(0.3)},
			{ID: "ford", Unserved: 220, Options: attempt(0.9)},
			{ID: "plain", Unserved: 300, Options: attempt(0.7)},
		},
		Windows: []programme.Window{{Name: "dry season", Weeks: 8}},
		Budget:  2000,
		Rules:   programme.DefaultRules(),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, pick := range p.Picks {
		fmt.Printf("%s: %.0f people expected\n", pick.Village, pick.People)
	}
	for _, why := range p.Why {
		fmt.Println(why.Village, why.In)
	}
	// Output:
	// ford: 198 people expected
	// plain: 175 people expected
	// ford true
	// hill false
	// plain true
}
