package programme

import "math"

// slack is how far rounding may carry a row over its end, as a share of the row.
const slack = 1e-9

// draft is a programme in the making.
type draft struct {
	m       *model
	pick    []int32   // column of each village, or left
	rows    []float64 // used: money, weeks by window
	trips   []int32   // villages of each round in each window
	floors  []float64
	totals  []float64 // people in each scenario; one, the mean, without caution
	scratch []float64
	outs    float64 // worth of the villages left out, but for the endless ones
	missing int     // villages that must be in and are not
}

func newDraft(m *model) *draft {
	d := &draft{
		m: m, pick: make([]int32, len(m.of)), rows: make([]float64, 1+m.windows),
		trips: make([]int32, len(m.rounds)*m.windows), floors: make([]float64, len(m.floors)),
	}
	n := 1
	if m.goal.caution > 0 {
		n = m.goal.cases
	}
	d.totals, d.scratch = make([]float64, n), make([]float64, n)
	for v := range d.pick {
		d.pick[v] = left
		d.leave(int32(v), 1)
	}
	return d
}

// from is a draft with these picks, whether they fit or not.
func from(m *model, picks []int32) *draft {
	d := newDraft(m)
	for v, j := range picks {
		if j >= 0 {
			d.set(int32(v), j)
		}
	}
	return d
}

// leave counts a village as left out (1) or no longer (-1).
func (d *draft) leave(v int32, sign float64) {
	if worth := d.m.goal.out[v]; math.IsInf(worth, -1) {
		d.missing += int(sign)
	} else {
		d.outs += sign * worth
	}
}

// set gives a village another column, or leaves it out.
func (d *draft) set(v, j int32) {
	d.add(v, d.pick[v], -1)
	d.pick[v] = j
	d.add(v, j, 1)
}

func (d *draft) add(v, j int32, sign float64) {
	if j < 0 {
		d.leave(v, sign)
		return
	}
	m := d.m
	c := &m.cols[j]
	d.rows[0] += sign * m.use[j].money
	d.rows[1+c.window] += sign * m.use[j].weeks
	k := &m.rounds[m.at[v]]
	trip := &d.trips[int(m.at[v])*m.windows+int(c.window)]
	if sign < 0 {
		*trip--
	}
	if *trip == 0 {
		d.rows[0] += sign * k.money
		d.rows[1+c.window] += sign * k.weeks[c.window]
	}
	if sign > 0 {
		*trip++
	}
	for _, f := range m.owes[v] {
		d.floors[f] += sign * m.floors[f].given(j)
	}
	if len(d.totals) == 1 {
		d.totals[0] += sign * c.mean
		return
	}
	for s, x := range c.served {
		d.totals[s] += sign * x
	}
}

// over is how much the rows are overdrawn, together.
func (d *draft) over() float64 {
	sum := 0.0
	for _, used := range d.rows {
		sum += max(0, used-1-slack)
	}
	return sum
}

// holds reports whether every floor that must hold does.
func (d *draft) holds() bool {
	for f, given := range d.floors {
		if math.IsInf(d.m.floors[f].penalty, 1) && given < 1-slack {
			return false
		}
	}
	return d.missing == 0
}

// fits reports whether the draft is a programme.
func (d *draft) fits() bool { return d.over() == 0 && d.holds() }

// score is what the search maximises.
func (d *draft) score() float64 {
	x := d.m.goal.score(d.totals, d.scratch) + d.outs
	for f, given := range d.floors {
		if short := 1 - given; short > slack && !math.IsInf(d.m.floors[f].penalty, 1) {
			x -= d.m.floors[f].penalty * short
		}
	}
	return x
}

// after is what a row would hold if a village took another column or none: the row of
// money, or that of a window.
func (d *draft) after(v, j int32, row int) float64 {
	m, old := d.m, d.pick[v]
	used := d.rows[row]
	k := &m.rounds[m.at[v]]
	same := old >= 0 && j >= 0 && m.cols[old].window == m.cols[j].window
	for _, x := range [2]struct {
		j    int32
		sign float64
		trip int32 // villages on the trip that make this one the last or the first
	}{{old, -1, 1}, {j, 1, 0}} {
		if x.j < 0 {
			continue
		}
		w := int(m.cols[x.j].window)
		pays := !same && d.trips[int(m.at[v])*m.windows+w] == x.trip
		switch {
		case row == 0:
			used += x.sign * m.use[x.j].money
			if pays {
				used += x.sign * k.money
			}
		case row == 1+w:
			used += x.sign * m.use[x.j].weeks
			if pays {
				used += x.sign * k.weeks[w]
			}
		}
	}
	return used
}

// tight reports whether another column would overdraw money or its window further.
func (d *draft) tight(v, j int32) bool {
	if x := d.after(v, j, 0); x > 1+slack && x > d.rows[0] {
		return true
	}
	if j < 0 {
		return false
	}
	row := 1 + int(d.m.cols[j].window)
	x := d.after(v, j, row)
	return x > 1+slack && x > d.rows[row]
}

// plain reports whether people alone count: no caution, no floor, no village that must.
func (d *draft) plain() bool {
	return d.m.goal.caution == 0 && !d.m.goal.blind && len(d.m.floors) == 0
}

// people is what a column gives on average.
func (d *draft) people(j int32) float64 {
	if j < 0 {
		return 0
	}
	return d.m.cols[j].mean
}

// try sets a column, and takes it back unless the draft then fits no worse and scores more
// than before. It returns whether it stayed.
func (d *draft) try(v, j int32, before float64) bool {
	old := d.pick[v]
	if j == old || d.tight(v, j) || d.plain() && old >= 0 && d.people(j) <= d.people(old) {
		return false
	}
	over, held := d.over(), d.holds()
	d.set(v, j)
	if d.over() > over || held && !d.holds() || d.score() <= before+1e-9*math.Abs(before) {
		d.set(v, old)
		return false
	}
	return true
}
