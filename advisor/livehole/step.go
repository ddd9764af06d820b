package livehole

// cellCosts is what one cell of each class costs one method, by cell, and what it costs to
// find that it does not pass.
type cellCosts struct{ passing, try []row }

func (p *Pack) costs(m *Method) *cellCosts {
	out := &cellCosts{make([]row, p.Cells), make([]row, p.Cells)}
	for z := range out.passing {
		for k := range out.passing[z] {
			hours := m.minutes(k, z) * cellM / 60
			out.passing[z][k] = hours * m.HourCost
			out.try[z][k] = min(hours, p.Costs.Try) * m.HourCost
		}
	}
	return out
}

// step drills cell z from the states above it into those below, and adds what happens to
// the flows. wet is 0 for holes without water and classes for those that met it; water that
// comes in takes a hole from the first into struck.
func (x *member) step(z, wet int, from, to, struck *states) {
	for _, n := range from.live {
		x.pass(z, wet, n, from, to, struck)
	}
}

// pass takes the bins of one block through a cell of every class.
func (x *member) pass(z, wet, n int, from, to, struck *states) {
	mass := from.massOf(x.ground, n)
	if mass < x.Weights.Least {
		return
	}
	bins, holds, ready := from.bins(x.ground, n), from.holds[n], x.ready[z]
	works := 0.0
	for i := max(ready, holds.from); i < holds.to; i++ {
		works += bins[i]
	}
	bins, holds.to = bins[:min(ready, len(bins))], min(holds.to, ready)
	at, crossed := n/(x.crossed+1), n%(x.crossed+1)
	f, j := &x.flows[z], x.class[at]
	f.alive[wet+j] += mass
	enters := wet == 0 && middleM(z) > x.today
	for k, q := range &x.look.steps[z][j] {
		if q == 0 {
			continue
		}
		next, after := x.next[at][k], crossed
		if k == x.main {
			after++
		}
		if next < 0 || after > x.crossed {
			f.cost[wet+j] += mass * q * x.try[z][k]
			continue
		}
		f.cost[wet+j] += mass * q * x.passing[z][k]
		f.works[wet+j] += works * q
		into, row := to, wet+k
		if enters && x.giving[k] {
			into, row = struck, classes+k
		}
		f.on[wet+j][row] += (mass - works) * q
		block := x.block(next, after)
		switch {
		case !x.giving[k] || z < x.roof:
			into.open(x.ground, block)[0] += (mass - works) * q
		case wet == 0: // no body of it above
			into.open(x.ground, block)[oneCell] += (mass - works) * q
		default:
			x.grown(z, into, block, bins, holds, j, k, q)
		}
	}
}

// grown takes bins into those of a body with cell z of a class.
func (x *member) grown(z int, to *states, block int, bins []float64, holds span, j, k int, q float64) {
	within, into := x.Yield.within(z), to.open(x.ground, block)
	into[oneCell] += bins[0] * q
	if len(bins) == 1 {
		return
	}
	if bins[oneCell] > 0 {
		join := within
		if x.Yield.within(z-1) != within {
			join += len(x.bodies.cell)
		}
		to.put(x.ground, block, x.join[join][j][k], bins[oneCell]*q)
	}
	grow := x.grow[within][k]
	for i := holds.from; i < holds.to; i++ {
		m, p := grow[i-atLeastTwo], bins[i]*q
		on := p * m.part
		into[m.bin] += p - on
		into[m.bin+1] += on
	}
	if holds.from < holds.to { // a body that grows moves up, never past one that was above it
		to.widen(block, grow[holds.from-atLeastTwo].bin, grow[holds.to-1-atLeastTwo].bin+2)
	}
}
