package programme

import "math"

// improve exchanges columns while that helps: one village at a time, then two, of which
// one makes room for the other. It looks at no more than budget columns and returns how
// many it looked at.
func (d *draft) improve(dead []bool, budget int) (work int) {
	for again := true; again && work < budget; {
		again = d.exchangeOne(dead, &work)
		if !again && work < budget {
			again = d.exchangeTwo(dead, budget, &work)
		}
	}
	return work
}

func (d *draft) exchangeOne(dead []bool, work *int) (better bool) {
	now := d.score()
	for v := range d.pick {
		for j := d.m.of[v][0]; j < d.m.of[v][1]; j++ {
			*work++
			if !dead[j] && d.try(int32(v), j, now) {
				now, better = d.score(), true
			}
		}
		if d.pick[v] >= 0 && d.m.goal.out[v] == 0 && d.try(int32(v), left, now) {
			now, better = d.score(), true
		}
	}
	return better
}

// exchangeTwo takes one village down, or out, and looks for the best use of the room.
func (d *draft) exchangeTwo(dead []bool, budget int, work *int) (better bool) {
	for v := range d.pick {
		if d.pick[v] < 0 || *work > budget {
			continue
		}
		if d.roomFrom(int32(v), dead, work) {
			better = true
		}
	}
	return better
}

func (d *draft) roomFrom(v int32, dead []bool, work *int) bool {
	old, now := d.pick[v], d.score()
	for j := d.m.of[v][0] - 1; j < d.m.of[v][1]; j++ {
		next := j
		if j < d.m.of[v][0] {
			next = left
		} else if dead[j] {
			continue
		}
		if next == old || next >= 0 && d.m.use[next].money >= d.m.use[old].money && d.m.use[next].weeks >= d.m.use[old].weeks && d.m.cols[next].window == d.m.cols[old].window {
			continue // frees nothing
		}
		if next == left && math.IsInf(d.m.goal.out[v], -1) {
			continue
		}
		d.set(v, next)
		if d.over() == 0 && d.fillRoom(v, now, dead, work) {
			return true
		}
		d.set(v, old)
	}
	return false
}

// fillRoom looks for the one exchange in another village that makes the draft better than
// it was.
func (d *draft) fillRoom(not int32, before float64, dead []bool, work *int) bool {
	base := d.score()
	bestV, bestJ, best := left, left, before+1e-9*math.Abs(before)
	plain := d.plain()
	for j := range d.m.cols {
		*work++
		v := d.m.cols[j].village
		was := d.pick[v]
		if dead[j] || v == not || was == int32(j) || plain && was >= 0 && base+d.people(int32(j))-d.people(was) <= best || d.tight(v, int32(j)) {
			continue
		}
		d.set(v, int32(j))
		if d.fits() {
			if x := d.score(); x > best {
				bestV, bestJ, best = v, int32(j), x
			}
		}
		d.set(v, was)
	}
	if bestV == left {
		return false
	}
	d.set(bestV, bestJ)
	return true
}
