package programme

import (
	"math"

	"waterstrike/geo"
)

// lookWork is how long a programme that fits is looked for where people count as well; it
// is the usual case and needs no proof.
const lookWork = 10_000_000

// meetFloors finds some programme in which everything holds that must, or says what
// cannot: first the villages that must be in, then each floor alone, then the fewest
// floors that cannot hold together.
func (p *Problem) meetFloors(m *model, starts [][]int32, lim limits) ([]int32, error) {
	soon := lim
	soon.gap, soon.work = 1, min(lim.work, lookWork) // any programme that fits will do
	if some := maximise(m, starts, soon); some.picks != nil {
		return some.picks, nil
	}
	got := m.shortfall(starts, lim, contradicts, func(f floor) bool { return true })
	if got.score >= -slack {
		return got.picks, nil
	}
	if err := p.blameMust(m, starts, lim); err != nil {
		return nil, err
	}
	for i := range m.floors {
		if err := p.blameFloor(m, i, starts, lim); err != nil {
			return nil, err
		}
	}
	if got.bound < contradicts {
		return nil, p.blameTogether(m, starts, lim)
	}
	return nil, fail(geo.Unsolvable, "programme.floors-not-settled")
}

// contradicts is a shortfall, as a share of a floor, that is no rounding: a bound below it
// shows that not all can hold.
const contradicts = -1e-6

// shortfall minimises what floors and villages that must be in lack, the score being
// minus that; 0 means that all hold. It ends once the bound is below a value.
func (m *model) shortfall(starts [][]int32, lim limits, below float64, counts func(floor) bool) found {
	g := goal{out: make([]float64, len(m.of)), blind: true, cases: m.goal.cases}
	for v, worth := range m.goal.out {
		if math.IsInf(worth, -1) {
			g.out[v] = -1
		}
	}
	soft := m.with(g, func(f floor) (floor, bool) {
		f.penalty = 1
		return f, counts(f)
	})
	lim.gap, lim.enough, lim.below = 0, -slack, below
	return maximise(soft, starts, lim)
}

// blameMust says so if the villages that must be in do not fit, floors aside.
func (p *Problem) blameMust(m *model, starts [][]int32, lim limits) error {
	got := m.shortfall(starts, lim, math.Inf(-1), func(floor) bool { return false })
	if got.bound >= contradicts {
		return nil
	}
	return fail(geo.Unsolvable, "programme.must-too-many",
		geo.With("n", geo.Count(len(p.Must))), geo.With("known", geo.Count(len(p.Must)+int(math.Round(got.score)))))
}

// blameFloor says so if one floor cannot hold even with all else given up, and how much
// of it can be reached.
func (p *Problem) blameFloor(m *model, i int, starts [][]int32, lim limits) error {
	number, people := m.floors[i].number, m.floors[i].people
	got := m.shortfall(starts, lim, math.Inf(-1), func(f floor) bool { return f.number == number && f.people == people })
	if got.bound >= contradicts {
		return nil
	}
	f := p.Floors[number]
	need, most := float64(f.Villages), float64(f.Villages)*(1+got.score)
	code := geo.Code("programme.floor-villages")
	most = math.Floor(most + 1e-6) // no part of a village is drilled in
	if people {
		need, most, code = f.People, math.Round(f.People*(1+got.score)), "programme.floor-people"
	}
	return fail(geo.Unsolvable, code, geo.With("district", geo.Text(f.District)),
		geo.With("need", geo.Number(need)), geo.With("most", geo.Number(most)))
}

// blameTogether leaves out each floor in turn that is not needed for the contradiction,
// and names those that are: without any one of them the others could hold.
func (p *Problem) blameTogether(m *model, starts [][]int32, lim limits) error {
	guilty := make([]bool, len(p.Floors))
	for i := range guilty {
		guilty[i] = true
	}
	for i := range p.Floors {
		guilty[i] = false
		got := m.shortfall(starts, lim, contradicts, func(f floor) bool { return guilty[f.number] })
		guilty[i] = got.bound >= contradicts // not shown to contradict without it
	}
	names := ""
	n := 0
	for i, f := range p.Floors {
		if guilty[i] {
			if n++; n > 1 {
				names += ", "
			}
			names += f.District
		}
	}
	return fail(geo.Unsolvable, "programme.floors-together", geo.With("n", geo.Count(n)), geo.With("value", geo.Text(names)))
}
