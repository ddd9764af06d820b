package programme

import (
	"cmp"
	"maps"
	"math/rand/v2"
	"slices"

	"waterstrike/geo"
)

// summarise makes a programme of chosen columns, one or none for each village.
func (p *Problem) summarise(chosen []column, scenarios int) *Programme {
	out := &Programme{Cases: make([]float64, scenarios), Windows: make([]Used, len(p.Windows))}
	for w, x := range p.Windows {
		out.Windows[w] = Used{Name: x.Name, Of: x.Weeks}
	}
	chosen = slices.Clone(chosen)
	slices.SortFunc(chosen, func(a, b column) int {
		return cmp.Compare(p.Villages[a.village].ID, p.Villages[b.village].ID)
	})
	for i := range chosen {
		p.count(out, &chosen[i])
	}
	p.payTrips(out, chosen)
	out.Districts = p.byDistrict(chosen)
	if scenarios >= leastCases {
		out.Worst = geo.Some(worstMean(out.Cases, make([]float64, scenarios)))
	}
	out.Range = p.draw(chosen, scenarios)
	return out
}

// count adds one column to the sums.
func (p *Problem) count(out *Programme, c *column) {
	pick := p.pick(c)
	out.Picks = append(out.Picks, pick)
	out.People, out.Attempts, out.Points = out.People+c.mean, out.Attempts+pick.Attempts, out.Points+pick.Points
	out.Money += c.cost
	w := &out.Windows[c.window]
	w.Weeks += c.weeks
	first, second := p.options(c)
	one := first.Chance() * float64(min(p.Villages[c.village].Unserved, first.People))
	out.Unfit += one * first.Risk.Or(0)
	out.MoneyMost, w.WeeksMost = out.MoneyMost+first.Cost, w.WeeksMost+first.Weeks
	known := first.Risk.Known()
	if second != nil {
		out.Unfit += (c.mean - one) * second.Risk.Or(0)
		out.MoneyMost, w.WeeksMost = out.MoneyMost+second.Cost, w.WeeksMost+second.Weeks
		known = known && second.Risk.Known()
	}
	if !known {
		out.RiskUnknown = append(out.RiskUnknown, pick.Village)
	}
	for s, x := range c.served {
		out.Cases[s] += x
	}
}

// options are the attempts of a column; the second may be nil.
func (p *Problem) options(c *column) (first, second *Option) {
	all := p.Villages[c.village].Options
	if c.second >= 0 {
		second = &all[c.second]
	}
	return &all[c.first], second
}

func (p *Problem) pick(c *column) Pick {
	first, second := p.options(c)
	out := Pick{
		Village: p.Villages[c.village].ID, Window: int(c.window), People: c.mean, Money: c.cost, Weeks: c.weeks,
		Tries: []Attempt{first.attempt(First)}, Chance: first.Chance(), Attempts: 1, Points: first.Chance(),
	}
	if second == nil {
		return out
	}
	when := IfFails
	if c.kind == both {
		when = Also
	}
	out.Tries = append(out.Tries, second.attempt(when))
	apart := first.Spot != second.Spot
	for s := range c.served {
		out.Chance += rescue(first.at(s), second.at(s), apart) / float64(len(c.served))
	}
	if when == Also {
		out.Attempts, out.Points = 2, first.Chance()+second.Chance()
	} else {
		out.Attempts, out.Points = 2-first.Chance(), out.Chance
	}
	return out
}

func (o *Option) attempt(when geo.Code) Attempt {
	return Attempt{Spot: o.Spot, Method: o.Method, When: when, Chance: o.Chance(), DepthM: o.DepthM, Cost: o.Cost, Risk: o.Risk}
}

// payTrips counts a trip for each round and window that is drilled in.
func (p *Problem) payTrips(out *Programme, chosen []column) {
	type trip struct {
		round  string
		window int32
	}
	gone := map[trip]bool{}
	for _, c := range chosen {
		t := trip{p.Villages[c.village].Round, c.window}
		i := slices.IndexFunc(p.Rounds, func(r Round) bool { return r.ID == t.round })
		if i < 0 || gone[t] {
			continue
		}
		gone[t] = true
		out.Trips += p.Rounds[i].Cost
		out.Windows[c.window].Weeks += p.Rounds[i].Weeks
		out.Windows[c.window].WeeksMost += p.Rounds[i].Weeks
	}
	out.Money, out.MoneyMost = out.Money+out.Trips, out.MoneyMost+out.Trips
}

func (p *Problem) byDistrict(chosen []column) (out []District) {
	by := map[string]*District{}
	for _, v := range p.Villages {
		if by[v.District] == nil {
			by[v.District] = &District{Name: v.District}
		}
		by[v.District].Without += v.Unserved
	}
	for _, c := range chosen {
		d := by[p.Villages[c.village].District]
		d.Villages++
		d.People += c.mean
		d.Money += c.cost
	}
	for _, name := range slices.Sorted(maps.Keys(by)) {
		out = append(out, *by[name])
	}
	return out
}

// draws is how many programmes are played through.
const draws = 4000

// draw plays the programme through, the scenarios in turn and luck within each, and
// returns what falls between the tenth and the ninetieth of a hundred.
func (p *Problem) draw(chosen []column, scenarios int) Range {
	rng := rand.New(rand.NewPCG(1, uint64(len(chosen))))
	totals := make([]float64, draws)
	for n := range totals {
		for i := range chosen {
			totals[n] += p.play(&chosen[i], n%scenarios, rng)
		}
	}
	slices.Sort(totals)
	return Range{P10: totals[draws/10], P90: totals[draws-1-draws/10]}
}

// play draws what one column serves in one scenario.
func (p *Problem) play(c *column, s int, rng *rand.Rand) float64 {
	first, second := p.options(c)
	unserved := p.Villages[c.village].Unserved
	luck, other := rng.Float64(), rng.Float64()
	people := 0
	works := luck < first.at(s)
	if works {
		people = first.People
	}
	if second != nil {
		if first.Spot == second.Spot {
			other = luck
		}
		if (c.kind == both || !works) && other < second.at(s) {
			people += second.People
		}
	}
	return float64(min(unserved, people))
}
