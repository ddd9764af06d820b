package programme

import (
	"cmp"
	"slices"
)

// kind is how the attempts of a column hang together.
type kind uint8

const (
	alone   kind = iota // one attempt
	ifFails             // a second one only if the first fails
	both                // two points
)

// column is one way to serve one village in one window.
type column struct {
	village, window int32
	first, second   int32 // numbers of options; second -1 when alone
	kind            kind
	cost, weeks     float64   // as the budget counts them
	mean            float64   // expected people newly served
	worst           float64   // mean of the worst fifth of its own scenarios; only under caution
	served          []float64 // people in each scenario
}

// columns lists every way to serve a village.
func (p *Problem) columns(number, scenarios int) []column {
	v := &p.Villages[number]
	var usable []int
	for i := range v.Options {
		if p.out(&v.Options[i]) == "" {
			usable = append(usable, i)
		}
	}
	var all []column
	for _, i := range usable {
		all = append(all, p.single(number, i, scenarios)...)
		for _, j := range usable {
			all = append(all, p.pair(number, i, j, scenarios)...)
		}
	}
	return all
}

func (p *Problem) single(number, i, scenarios int) []column {
	o := &p.Villages[number].Options[i]
	c := column{first: int32(i), second: -1, cost: o.Cost, weeks: o.Weeks, served: make([]float64, scenarios)}
	most := float64(min(p.Villages[number].Unserved, o.People))
	for s := range c.served {
		c.served[s] = o.at(s) * most
	}
	return p.inWindows(number, c, func(w int) bool { return o.canIn(w) })
}

// pair is the second attempt after a failed one, and two points at once.
func (p *Problem) pair(number, i, j, scenarios int) (out []column) {
	v := &p.Villages[number]
	a, b := &v.Options[i], &v.Options[j]
	apart := a.Spot != b.Spot
	can := func(w int) bool { return a.canIn(w) && b.canIn(w) }
	people := func(n int) float64 { return float64(min(v.Unserved, n)) }
	one, other, together := people(a.People), people(b.People), people(a.People+b.People)
	if p.Rules.SecondTry && i != j && (apart || a.Method != b.Method) {
		c := column{first: int32(i), second: int32(j), kind: ifFails, served: make([]float64, scenarios)}
		needed := 0.0
		for s := range c.served {
			c.served[s] = a.at(s)*one + rescue(a.at(s), b.at(s), apart)*other
			needed += (1 - a.at(s)) / float64(scenarios)
		}
		if p.Rules.ReserveTry {
			needed = 1
		}
		c.cost, c.weeks = a.Cost+needed*b.Cost, a.Weeks+needed*b.Weeks
		out = append(out, p.inWindows(number, c, can)...)
	}
	if p.Rules.SecondPoint && i < j && apart && together > max(one, other) {
		c := column{first: int32(i), second: int32(j), kind: both, cost: a.Cost + b.Cost, weeks: a.Weeks + b.Weeks, served: make([]float64, scenarios)}
		for s := range c.served {
			x, y := a.at(s), b.at(s)
			c.served[s] = x*y*together + x*(1-y)*one + (1-x)*y*other
		}
		out = append(out, p.inWindows(number, c, can)...)
	}
	return out
}

// rescue is the chance that the first attempt fails and the second works: independent
// where they stand apart; at one spot the ground is one, and only what the second method
// can do beyond the first helps.
func rescue(first, second float64, apart bool) float64 {
	if apart {
		return (1 - first) * second
	}
	return max(0, second-first)
}

// at is the chance in one scenario.
func (o *Option) at(s int) float64 {
	if len(o.Chances) == 1 {
		return o.Chances[0]
	}
	return o.Chances[s]
}

// Chance is the mean of the chances over the scenarios.
func (o *Option) Chance() float64 {
	sum := 0.0
	for _, c := range o.Chances {
		sum += c
	}
	return sum / float64(len(o.Chances))
}

func (o *Option) canIn(w int) bool { return len(o.Windows) == 0 || slices.Contains(o.Windows, w) }

// inWindows sets a column in each window that it can be drilled in and that has the weeks.
func (p *Problem) inWindows(number int, c column, can func(int) bool) (out []column) {
	for _, x := range c.served {
		c.mean += x / float64(len(c.served))
	}
	if c.mean == 0 || c.cost > p.Budget {
		return nil
	}
	if p.Rules.Caution > 0 {
		c.worst = worstMean(c.served, make([]float64, len(c.served)))
	}
	for w := range p.Windows {
		if can(w) && c.weeks <= p.Windows[w].Weeks {
			c.village, c.window = int32(number), int32(w)
			out = append(out, c)
		}
	}
	return out
}

// measure is by what one column is held against another.
type measure uint8

const (
	byMean measure = iota // all that counts without caution
	byCase                // in every scenario: no better programme is lost
	byTail                // mean and own worst fifth: a good programme may be lost, few are
)

// undominated keeps the columns that no other of the same window beats.
func undominated(all []column, by measure) []column {
	slices.SortStableFunc(all, func(a, b column) int {
		return cmp.Or(cmp.Compare(a.window, b.window), -cmp.Compare(a.mean, b.mean),
			cmp.Compare(a.cost, b.cost), cmp.Compare(a.weeks, b.weeks))
	})
	var kept []column
	for _, c := range all {
		beaten := false
		for i := len(kept) - 1; i >= 0 && kept[i].window == c.window && !beaten; i-- {
			beaten = kept[i].beats(&c, by)
		}
		if !beaten {
			kept = append(kept, c)
		}
	}
	return slices.Clip(kept)
}

func (c *column) beats(other *column, by measure) bool {
	if c.cost > other.cost || c.weeks > other.weeks || c.mean < other.mean || by == byTail && c.worst < other.worst {
		return false
	}
	for s := 0; by == byCase && s < len(c.served); s++ {
		if c.served[s] < other.served[s] {
			return false
		}
	}
	return true
}
