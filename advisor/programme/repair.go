package programme

import (
	"cmp"
	"math"
	"slices"
)

// repair turns picks into a programme that fits, if it can: overdrawn rows are emptied of
// what gives least for what it takes, floors that are short are filled with what gives
// them most, and what is left over is spent, on the columns in the order given.
func repair(m *model, picks, order []int32) (*draft, bool) {
	d := from(m, picks)
	d.empty(nil)
	for f := range m.floors {
		if d.floors[f] < 1-slack {
			d.fill(int32(f), order)
		}
	}
	for v := range d.pick {
		if d.pick[v] == left && math.IsInf(m.goal.out[v], -1) {
			d.force(int32(v))
		}
	}
	if !d.fits() {
		return d, false
	}
	d.spend(order)
	return d, true
}

// ordered lists the columns that a better programme may hold, those first that the prices
// think most of.
func ordered(got *relaxed, dead []bool, score float64) []int32 {
	var order []int32
	for j, fall := range got.regret {
		if !dead[j] && got.bound-fall > score {
			order = append(order, int32(j))
		}
	}
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(-cmp.Compare(got.reduced[a], got.reduced[b]), cmp.Compare(a, b))
	})
	return order
}

// empty leaves villages out until no row is overdrawn: first those that give least for
// the share they take of the rows that are. Kept is a village that stays.
func (d *draft) empty(kept func(v int32) bool) {
	type holding struct {
		v     int32
		worth float64
	}
	var all []holding
	for v, j := range d.pick {
		if j < 0 || math.IsInf(d.m.goal.out[v], -1) || kept != nil && kept(int32(v)) {
			continue
		}
		takes := 0.0
		for i, used := range d.rows {
			if used > 1+slack {
				takes += d.m.takes(j, i)
			}
		}
		if takes > 0 {
			all = append(all, holding{int32(v), d.m.cols[j].mean / takes})
		}
	}
	slices.SortStableFunc(all, func(a, b holding) int { return cmp.Compare(a.worth, b.worth) })
	for _, h := range all {
		if d.over() == 0 {
			return
		}
		over, j := d.over(), d.pick[h.v]
		short := d.shortBy()
		if d.set(h.v, left); d.over() >= over || d.shortBy() > short {
			d.set(h.v, j)
		}
	}
}

// takes is the share of a row that a column uses, trips aside.
func (m *model) takes(j int32, row int) float64 {
	switch {
	case row == 0:
		return m.use[j].money
	case row == 1+int(m.cols[j].window):
		return m.use[j].weeks
	}
	return 0
}

// shortBy is how much the floors lack together.
func (d *draft) shortBy() float64 {
	sum := 0.0
	for _, given := range d.floors {
		sum += max(0, 1-given)
	}
	return sum
}

// fill gives a floor columns until it holds, making room among villages that owe none.
func (d *draft) fill(f int32, order []int32) {
	owes := func(v int32) bool { return slices.Contains(d.m.owes[v], f) }
	for _, j := range order {
		if d.floors[f] >= 1-slack {
			return
		}
		v := d.m.cols[j].village
		if !owes(v) {
			continue
		}
		old, before := d.pick[v], d.floors[f]
		d.set(v, j)
		if d.floors[f] <= before {
			d.set(v, old)
			continue
		}
		d.empty(owes)
		if d.over() > 0 {
			d.set(v, old)
		}
	}
}

// force puts a village in by the column that overdraws least, making room among the rest.
func (d *draft) force(v int32) {
	best, least := left, math.Inf(1)
	for j := d.m.of[v][0]; j < d.m.of[v][1]; j++ {
		d.set(v, j)
		if over := d.over() + 1e-6*d.m.use[j].money; over < least {
			best, least = j, over
		}
	}
	d.set(v, best)
	d.empty(func(u int32) bool { return u == v })
}

// spend takes what fits and helps, the dearest to the prices first.
func (d *draft) spend(order []int32) {
	now := d.score()
	for _, j := range order {
		if d.try(d.m.cols[j].village, j, now) {
			now = d.score()
		}
	}
}
