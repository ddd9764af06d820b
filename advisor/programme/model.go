package programme

import (
	"math"
	"slices"
)

// model is a problem made ready for the search: columns, rows and rounds by number, with
// money, weeks and floors each as shares of what there is, so that every row reads "at
// most 1" or "at least 1".
type model struct {
	cols    []column
	use     []use      // of each column; apart from it, because the search reads little else
	of      [][2]int32 // columns of each village, from and to
	windows int
	rounds  []round
	at      []int32 // round of each village
	floors  []floor
	owes    [][]int32 // floors that each village counts for
	still   float64   // worth of the villages that have no column and are in no round's list
	goal    goal
	by      measure // by which columns were held against each other
}

// use is what a column takes.
type use struct {
	money, weeks float64 // shares of the money and of its window's weeks
	window       int32
}

// round is villages that share trips.
type round struct {
	villages []int32
	money    float64   // share of the budget a trip takes
	weeks    []float64 // share of each window's weeks a trip takes; 0 where the window has none
	free     bool      // costs nothing
}

// floor is one row that asks for at least 1.
type floor struct {
	number  int       // in Problem.Floors
	people  bool      // counts people rather than villages
	gives   []float64 // what each column adds, by column; nil for villages: share
	share   float64   // what a village adds
	penalty float64   // price of falling short by all of it; infinite: it must hold
}

// goal is what the search maximises.
type goal struct {
	out     []float64 // of leaving each village out: 0, a penalty, or minus infinity where it must be in
	blind   bool      // people do not count, only penalties do
	caution float64
	cases   int // scenarios
}

// build makes the model of a problem that was checked.
func build(p *Problem, scenarios int) *model {
	m := &model{windows: len(p.Windows), at: make([]int32, len(p.Villages)), owes: make([][]int32, len(p.Villages))}
	m.goal = goal{out: make([]float64, len(p.Villages)), caution: p.Rules.Caution, cases: scenarios}
	ways, by := p.ways(scenarios)
	m.by = by
	for v := range p.Villages {
		from := int32(len(m.cols))
		m.cols = append(m.cols, undominated(ways[v], by)...)
		m.of = append(m.of, [2]int32{from, int32(len(m.cols))})
		if slices.Contains(p.Must, p.Villages[v].ID) {
			m.goal.out[v] = math.Inf(-1)
		}
	}
	for _, c := range m.cols {
		m.use = append(m.use, use{c.cost / p.Budget, ratio(c.weeks, p.Windows[c.window].Weeks), c.window})
	}
	m.addRounds(p)
	m.addFloors(p)
	m.rest()
	return m
}

// ways lists the columns of each village and how to hold them against each other.
func (p *Problem) ways(scenarios int) (ways [][]column, by measure) {
	ways = make([][]column, len(p.Villages))
	n := 0
	for v := range p.Villages {
		if !slices.Contains(p.Never, p.Villages[v].ID) {
			ways[v] = p.columns(v, scenarios)
			n += len(ways[v])
		}
	}
	switch {
	case p.Rules.Caution == 0:
		return ways, byMean
	case n <= fewColumns:
		return ways, byCase
	}
	return ways, byTail
}

// ratio divides, 0 by 0 being 0: no weeks of a window without any.
func ratio(a, b float64) float64 {
	if a == 0 {
		return 0
	}
	return a / b
}

func (m *model) addRounds(p *Problem) {
	numbers := map[string]int32{}
	for _, r := range p.Rounds {
		numbers[r.ID] = int32(len(m.rounds))
		next := round{money: r.Cost / p.Budget, free: r.Cost == 0 && r.Weeks == 0}
		for _, w := range p.Windows {
			next.weeks = append(next.weeks, ratio(r.Weeks, w.Weeks))
		}
		m.rounds = append(m.rounds, next)
	}
	alone := int32(len(m.rounds))
	m.rounds = append(m.rounds, round{free: true, weeks: make([]float64, len(p.Windows))})
	for v := range p.Villages {
		k, named := numbers[p.Villages[v].Round]
		if !named {
			k = alone
		}
		m.at[v] = k
		m.rounds[k].villages = append(m.rounds[k].villages, int32(v))
	}
}

// rest takes the villages that have no column out of their rounds: they have no choice.
func (m *model) rest() {
	m.still = 0
	m.rounds = slices.Clone(m.rounds)
	for k := range m.rounds {
		var busy []int32
		for _, v := range m.rounds[k].villages {
			if m.of[v][0] < m.of[v][1] {
				busy = append(busy, v)
			}
		}
		m.rounds[k].villages = busy
	}
	for v := range m.of {
		if m.of[v][0] == m.of[v][1] {
			m.still += m.goal.out[v]
		}
	}
}

func (m *model) addFloors(p *Problem) {
	add := func(number int, f floor) {
		for v := range p.Villages {
			if p.Villages[v].District == p.Floors[number].District {
				m.owes[v] = append(m.owes[v], int32(len(m.floors)))
			}
		}
		f.number, f.penalty = number, math.Inf(1)
		m.floors = append(m.floors, f)
	}
	for i, f := range p.Floors {
		if f.Villages > 0 {
			add(i, floor{share: 1 / float64(f.Villages)})
		}
		if f.People > 0 {
			gives := make([]float64, len(m.cols))
			for j := range m.cols {
				gives[j] = m.cols[j].mean / f.People
			}
			add(i, floor{people: true, gives: gives})
		}
	}
}

// given is what a column adds to a floor that its village counts for.
func (f *floor) given(j int32) float64 {
	if f.people {
		return f.gives[j]
	}
	return f.share
}

// with returns the model with another goal and other floors.
func (m *model) with(g goal, floors func(floor) (floor, bool)) *model {
	next := *m
	next.goal, next.floors, next.owes = g, nil, make([][]int32, len(m.owes))
	renumber := map[int32]int32{}
	for i, f := range m.floors {
		if f, keep := floors(f); keep {
			renumber[int32(i)] = int32(len(next.floors))
			next.floors = append(next.floors, f)
		}
	}
	for v, owed := range m.owes {
		for _, f := range owed {
			if n, kept := renumber[f]; kept {
				next.owes[v] = append(next.owes[v], n)
			}
		}
	}
	next.rest()
	return &next
}
