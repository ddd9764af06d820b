package programme

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo"
)

// reasons says of each village why it is in or out, by the prices at which the bound is
// lowest: what people and floors are worth there against money and weeks.
func (p *Problem) reasons(m *model, best found, done *Programme) []Reason {
	r := newRelaxer(m)
	r.weigh(best.prices.worst)
	w := judge{p: p, m: m, best: best, values: r.values, done: done, trips: make([]bool, len(m.rounds)*m.windows)}
	for v, j := range best.picks {
		if j >= 0 {
			w.trips[int(m.at[v])*m.windows+int(m.cols[j].window)] = true
		}
	}
	out := make([]Reason, len(p.Villages))
	for v := range p.Villages {
		in := best.picks[v] >= 0
		say := w.out
		if in {
			say = w.in
		}
		out[v] = Reason{p.Villages[v].ID, in, say(v)}
	}
	slices.SortFunc(out, func(a, b Reason) int { return cmp.Compare(a.Village, b.Village) })
	return out
}

// margin is how near to its price a village counts as worth it, as a share of its people:
// the village that the budget ends in lies at its price exactly, but for rounding.
const margin = 1e-3

// judge holds what reasons rest on.
type judge struct {
	p      *Problem
	m      *model
	best   found
	values []float64
	done   *Programme
	trips  []bool // paid already
}

// worth is what a column gives in people, what it gives to floors, and what it takes.
type worth struct {
	people, floors, money, weeks float64
}

func (w *judge) worth(j int32) (x worth) {
	m, prices := w.m, w.best.prices
	c := &m.cols[j]
	x.people = w.values[j]
	for _, f := range m.owes[c.village] {
		x.floors += prices.floors[f] * m.floors[f].given(j)
	}
	x.money, x.weeks = prices.money*m.use[j].money, prices.weeks[c.window]*m.use[j].weeks
	if k := &m.rounds[m.at[c.village]]; !w.trips[int(m.at[c.village])*m.windows+int(c.window)] {
		x.money += prices.money * k.money
		x.weeks += prices.weeks[c.window] * k.weeks[c.window]
	}
	return x
}

func (x worth) gain() float64 { return x.people + x.floors - x.money - x.weeks }

func (w *judge) in(v int) geo.Message {
	p, j := w.p, w.best.picks[v]
	x := w.worth(j)
	switch {
	case slices.Contains(p.Must, p.Villages[v].ID):
		return geo.Say("programme.in.must")
	case x.floors > 0 && x.gain()-x.floors < 0:
		return geo.Say("programme.in.floor", geo.With("district", geo.Text(p.Villages[v].District)))
	case x.money == 0 && x.weeks == 0:
		return geo.Say("programme.in.enough")
	case x.gain() < 0:
		return geo.Say("programme.in.left-over")
	}
	return w.rate("programme.in.", x, j)
}

// rate holds what a column gives against what that which it takes gives elsewhere: by the
// 1,000 of money or by the crew-week where one of them alone is scarce. Where both are,
// neither rate could tell, and people stand against people.
func (w *judge) rate(prefix geo.Code, x worth, j int32) geo.Message {
	prices, window := w.best.prices, w.m.cols[j].window
	money, week := 1000*prices.money/w.p.Budget, prices.weeks[window]/w.p.Windows[window].Weeks
	say := func(suffix geo.Code, gives, price float64) geo.Message {
		if math.Round(gives) != math.Round(price) {
			gives, price = math.Round(gives), math.Round(price) // people
		}
		return geo.Say(prefix+suffix, geo.With("gives", geo.Number(gives)), geo.With("price", geo.Number(price)))
	}
	switch scarce := margin * (x.money + x.weeks); {
	case x.weeks <= scarce:
		return say("money", x.people*money/x.money, money)
	case x.money <= scarce:
		return say("weeks", x.people*week/x.weeks, week)
	}
	return say("both", x.people, x.money+x.weeks)
}

func (w *judge) out(v int) geo.Message {
	p, m := w.p, w.m
	if slices.Contains(p.Never, p.Villages[v].ID) {
		return geo.Say("programme.out.never")
	}
	if m.of[v][0] == m.of[v][1] {
		return p.whyNoColumn(v)
	}
	best, most := left, math.Inf(-1)
	for j := m.of[v][0]; j < m.of[v][1]; j++ {
		if gain := w.worth(j).gain(); gain > most {
			best, most = j, gain
		}
	}
	x := w.worth(best)
	if most >= -margin*x.people {
		return geo.Say("programme.out.no-room", geo.With("need", geo.Number(math.Round(m.cols[best].cost))), geo.With("sum", geo.Number(math.Round(max(0, p.Budget-w.done.Money)))))
	}
	return w.rate("programme.out.", x, best)
}

// whyNoColumn says why nothing can be done in a village.
func (p *Problem) whyNoColumn(v int) geo.Message {
	x := &p.Villages[v]
	switch {
	case x.Unserved == 0:
		return geo.Say("programme.out.no-need")
	case len(x.Options) == 0:
		return geo.Say("programme.out.no-spot")
	}
	counts := map[geo.Code]int{}
	dear := true
	for i := range x.Options {
		counts[p.out(&x.Options[i])]++
		dear = dear && x.Options[i].Cost > p.Budget
	}
	if counts[""] == 0 {
		most := TooFar
		for _, code := range []geo.Code{TooRisky, LowChance, ServesNone} {
			if counts[code] > counts[most] {
				most = code
			}
		}
		return geo.Say("programme.out.options", geo.With("n", geo.Count(len(x.Options))), geo.With("reason", geo.Ref(most)))
	}
	if dear {
		return geo.Say("programme.out.too-dear", geo.With("sum", geo.Number(p.Budget)))
	}
	return geo.Say("programme.out.no-window")
}
