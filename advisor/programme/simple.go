package programme

import (
	"cmp"
	"math"
	"slices"
)

// Rule is a simple way to choose, to hold a programme against.
type Rule uint8

// The simple rules: villages in turn, each with one attempt, until nothing more fits.
const (
	Nearest       Rule = iota // to the crews' base; the spot nearest to the village
	MostPeople                // without water first; the point for most people
	HighestChance             // the likeliest spot and method first
	PeoplePerCost             // most expected people for the money that is next paid, trip included
)

// SimpleRules returns all simple rules.
func SimpleRules() []Rule { return []Rule{Nearest, MostPeople, HighestChance, PeoplePerCost} }

// Simple makes the programme that a simple rule makes. Floors do not bind it; villages
// that must be in come first.
//
//   - Errors: as [Solve] for bad input.
//   - Checked by: TestSimpleByHand, TestNeverBelowSimple.
func Simple(p Problem, by Rule) (*Programme, error) {
	scenarios, err := p.check()
	if err != nil {
		return nil, err
	}
	return p.summarise(p.simply(by, scenarios), scenarios), nil
}

// purse is what is left of money and weeks, and the trips already paid.
type purse struct {
	money float64
	weeks []float64
	paid  []bool // by round and window
}

// offer is a column with the order that a rule gives it, the greatest first.
type offer struct {
	c     column
	round int  // in Problem.Rounds, -1 for none
	first bool // its village must be in
	key   [2]float64
}

// simply returns the columns that a simple rule takes.
func (p *Problem) simply(by Rule, scenarios int) (taken []column) {
	left := purse{money: p.Budget, paid: make([]bool, len(p.Rounds)*len(p.Windows))}
	for _, w := range p.Windows {
		left.weeks = append(left.weeks, w.Weeks)
	}
	offers := p.offers(by, scenarios)
	for len(offers) > 0 {
		i := 0
		if by == PeoplePerCost {
			if i = p.bestValue(offers, &left); i < 0 {
				break
			}
		}
		next := offers[i]
		if p.pay(&next, &left) {
			taken = append(taken, next.c)
			offers = slices.DeleteFunc(offers, func(o offer) bool { return o.c.village == next.c.village })
		} else {
			offers = slices.Delete(offers, i, i+1)
		}
	}
	return taken
}

// offers lists single attempts in the order of a rule, ties by village, window and option.
func (p *Problem) offers(by Rule, scenarios int) (out []offer) {
	for v := range p.Villages {
		if slices.Contains(p.Never, p.Villages[v].ID) {
			continue
		}
		must := slices.Contains(p.Must, p.Villages[v].ID)
		round := slices.IndexFunc(p.Rounds, func(r Round) bool { return r.ID == p.Villages[v].Round })
		for i := range p.Villages[v].Options {
			if p.out(&p.Villages[v].Options[i]) == "" {
				for _, c := range p.single(v, i, scenarios) {
					out = append(out, offer{c, round, must, p.key(by, &c)})
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b offer) int {
		return cmp.Or(-cmp.Compare(number(a.first), number(b.first)), -cmp.Compare(a.key[0], b.key[0]), -cmp.Compare(a.key[1], b.key[1]),
			cmp.Compare(p.Villages[a.c.village].ID, p.Villages[b.c.village].ID))
	})
	return out
}

func number(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (p *Problem) key(by Rule, c *column) [2]float64 {
	v := &p.Villages[c.village]
	o := &v.Options[c.first]
	switch by {
	case Nearest:
		return [2]float64{-v.BaseM.Or(math.MaxFloat64), -o.WalkM}
	case MostPeople:
		return [2]float64{float64(v.Unserved), float64(o.People)}
	case HighestChance:
		return [2]float64{o.Chance(), c.mean}
	}
	return [2]float64{} // the money next paid decides
}

// bestValue finds the offer that fits with most people for the money that it takes now,
// among those of villages that must be in as long as one of these fits; -1 for none.
func (p *Problem) bestValue(offers []offer, left *purse) int {
	best, most := -1, math.Inf(-1)
	for i := range offers {
		if best >= 0 && offers[best].first && !offers[i].first {
			break
		}
		money, weeks := p.price(&offers[i], left)
		if value := offers[i].c.mean / max(money, 1e-9); value > most && left.holds(money, weeks, offers[i].c.window) {
			best, most = i, value
		}
	}
	return best
}

// price is what an offer takes now, its trip included where none is paid.
func (p *Problem) price(o *offer, left *purse) (money, weeks float64) {
	money, weeks = o.c.cost, o.c.weeks
	if o.round >= 0 && !left.paid[o.round*len(p.Windows)+int(o.c.window)] {
		money, weeks = money+p.Rounds[o.round].Cost, weeks+p.Rounds[o.round].Weeks
	}
	return money, weeks
}

func (left *purse) holds(money, weeks float64, window int32) bool {
	return money <= left.money && weeks <= left.weeks[window]
}

// pay takes an offer from the purse; false where it does not fit.
func (p *Problem) pay(o *offer, left *purse) bool {
	money, weeks := p.price(o, left)
	w := o.c.window
	if !left.holds(money, weeks, w) {
		return false
	}
	left.money, left.weeks[w] = left.money-money, left.weeks[w]-weeks
	if o.round >= 0 {
		left.paid[o.round*len(p.Windows)+int(w)] = true
	}
	return true
}

// picksOf finds for each column given the one of the model that is as good or better.
func (m *model) picksOf(chosen []column) []int32 {
	picks := make([]int32, len(m.of))
	for v := range picks {
		picks[v] = left
	}
	for i := range chosen {
		c := &chosen[i]
		for j := m.of[c.village][0]; j < m.of[c.village][1]; j++ {
			if m.cols[j].window == c.window && m.cols[j].beats(c, m.by) {
				picks[c.village] = j
				break
			}
		}
	}
	return picks
}
