package programme

import (
	"math"
	"slices"

	"waterstrike/geo"
)

// Gain is what more money buys.
type Gain struct {
	Sum    float64 `json:"sum"`
	Score  float64 `json:"score"`  // gained: people expected, weighed under caution
	AtMost float64 `json:"atMost"` // no programme gains more
	// Programme is the one with more money; Difference what it does otherwise.
	Programme  *Programme `json:"programme"`
	Difference Difference `json:"difference"`
}

// More tells what a sum more than the budget buys, beginning with the programme that was
// found for the budget, so that it never buys less than nothing.
//
//   - Units: money in the currency of the problem, people.
//   - Errors: as [Solve]; [geo.Invalid] for a sum that is no number above 0 and for a
//     programme that holds what the problem does not offer.
//   - Source: as [Solve].
//   - Checked by: TestMoreMoney.
func More(p Problem, have *Programme, sum float64) (*Gain, error) {
	if !(sum > 0) || math.IsInf(sum, 0) {
		return nil, fail(geo.Invalid, "programme.no-budget", geo.With("sum", geo.Number(sum)))
	}
	columns, err := p.resume(have)
	if err != nil {
		return nil, err
	}
	p.Budget += sum
	richer, err := p.solve(columns)
	if err != nil {
		return nil, err
	}
	g := &Gain{Sum: sum, Programme: richer, Difference: Compare(have, richer)}
	g.Score = max(0, richer.Proof.Score-have.Proof.Score) // rounding can carry it below
	g.AtMost = max(g.Score, richer.Proof.Bound-have.Proof.Score)
	return g, nil
}

// columnsOf finds the columns that a programme's picks are.
func (p *Problem) columnsOf(have *Programme, scenarios int) (out []column, err error) {
	if have.Proof == nil {
		return nil, fail(geo.Invalid, "programme.unknown-pick", geo.With("id", geo.Text("")))
	}
	for _, pick := range have.Picks {
		v := slices.IndexFunc(p.Villages, func(x Village) bool { return x.ID == pick.Village })
		found := false
		for _, c := range p.columnsOrNone(v, scenarios) {
			if int(c.window) == pick.Window && sameTries(p.pick(&c), pick) {
				out, found = append(out, c), true
				break
			}
		}
		if !found {
			return nil, fail(geo.Invalid, "programme.unknown-pick", village(pick.Village))
		}
	}
	return out, nil
}

func (p *Problem) columnsOrNone(v, scenarios int) []column {
	if v < 0 {
		return nil
	}
	return p.columns(v, scenarios)
}
