package programme

import "math"

// slope is the subgradient of the bound, and a direction to walk in.
type slope struct {
	rows  []float64 // money, weeks by window, floors
	worst []float64 // scenarios; only the part that keeps their sum
}

// lowered is where a descent ended.
type lowered struct {
	prices prices
	bound  float64
	share  []float64 // of each column: how much of the way its village took it
}

// descent walks prices down the bound.
type descent struct {
	r      *relaxer
	d      *domain
	scale  float64 // of the score: what one unit of a scenario's weight is worth
	totals []float64
	now    slope
	way    slope // direction of the last step
	theta  float64
}

// patience is how many steps without a better bound halve the step.
const patience = 8

// descend lowers the bound over a domain from some prices, at most so many steps, and
// stops once it is no better than target, which some programme has reached.
//
//   - Source: subgradient steps after Polyak (1969) towards target, deflected after
//     Camerini, Fratta and Maffioli (1975), Math. Prog. Study 3:26-34.
//   - Checked by: TestBoundHolds, TestSolveAgainstEnumeration.
func (r *relaxer) descend(start prices, d *domain, target float64, steps int) lowered {
	m := r.m
	x := &descent{r: r, d: d, totals: make([]float64, m.goal.cases), theta: 1}
	rows := 1 + m.windows + len(m.floors)
	x.now, x.way = slope{rows: make([]float64, rows)}, slope{rows: make([]float64, rows)}
	if start.worst != nil {
		x.now.worst, x.way.worst = make([]float64, m.goal.cases), make([]float64, m.goal.cases)
	}
	p := start.clone()
	best := lowered{prices: p.clone(), bound: math.Inf(1), share: make([]float64, len(m.cols))}
	weight, all, stale := 1.0, 0.0, 0
	for range steps {
		r.weigh(p.worst)
		got := r.at(&p, d)
		for _, j := range got.pick {
			if j >= 0 {
				best.share[j] += weight
			}
		}
		all += weight
		weight *= 1.05 // late choices tell more
		if stale++; got.bound < best.bound {
			if got.bound < best.bound-1e-6*math.Abs(best.bound) {
				stale = 0
			}
			best.bound, best.prices = got.bound, p.clone()
		}
		if math.IsInf(got.bound, -1) || best.bound <= target {
			break
		}
		if stale >= patience {
			x.theta, stale, p = x.theta/2, 0, best.prices.clone()
		}
		if x.theta < 1e-3 || !x.step(&p, got, target) {
			break
		}
	}
	for j := range best.share {
		best.share[j] /= all
	}
	return best
}

// step moves the prices against the slope; false where the slope is flat: the choice fits
// and wastes nothing that has a price.
func (x *descent) step(p *prices, got *relaxed, target float64) bool {
	x.scale = max(1, math.Abs(got.bound))
	x.measure(got)
	x.deflect()
	norm := x.way.dot(&x.way)
	if math.IsInf(target, -1) {
		target = got.bound - 0.1*math.Abs(got.bound) - 1
	}
	if norm < 1e-18 {
		return false
	}
	t := x.theta * (got.bound - target) / norm
	p.money = max(0, p.money-t*x.way.rows[0])
	for w := range p.weeks {
		p.weeks[w] = max(0, p.weeks[w]-t*x.way.rows[1+w])
	}
	for f := range p.floors {
		at := p.floors[f] - t*x.way.rows[1+len(p.weeks)+f]
		p.floors[f] = min(max(0, at), x.r.m.floors[f].penalty)
	}
	if p.worst != nil {
		for s := range p.worst {
			p.worst[s] -= t * x.way.worst[s] / x.scale
		}
		ontoWeights(p.worst)
	}
	return true
}

// measure finds the slope: what of each row the choice leaves, what it gives beyond each
// floor, whom it serves in each scenario beyond the mean.
func (x *descent) measure(got *relaxed) {
	m := x.r.m
	rows := x.now.rows
	for i := range rows {
		rows[i] = 1
		if i > m.windows {
			rows[i] = -1
		}
	}
	clear(x.totals)
	trips := make([]bool, len(m.rounds)*m.windows)
	for v, j := range got.pick {
		if j < 0 {
			continue
		}
		c := &m.cols[j]
		rows[0] -= m.use[j].money
		rows[1+c.window] -= m.use[j].weeks
		for _, f := range m.owes[v] {
			rows[1+m.windows+int(f)] += m.floors[f].given(j)
		}
		if k := m.at[v]; !m.rounds[k].free && !trips[int(k)*m.windows+int(c.window)] {
			trips[int(k)*m.windows+int(c.window)] = true
			rows[0] -= m.rounds[k].money
			rows[1+c.window] -= m.rounds[k].weeks[c.window]
		}
		if x.now.worst != nil {
			for s, n := range c.served {
				x.totals[s] += n
			}
		}
	}
	if x.now.worst == nil {
		return
	}
	mean := 0.0
	for _, z := range x.totals {
		mean += z / float64(len(x.totals))
	}
	for s, z := range x.totals {
		x.now.worst[s] = m.goal.caution * (z - mean) / x.scale
	}
}

// deflect turns the last direction into the next: the slope, bent away from going back.
func (x *descent) deflect() {
	bend := 0.0
	if norm := x.way.dot(&x.way); norm > 0 {
		bend = max(0, -1.5*x.now.dot(&x.way)/norm)
	}
	for i := range x.way.rows {
		x.way.rows[i] = x.now.rows[i] + bend*x.way.rows[i]
	}
	for s := range x.way.worst {
		x.way.worst[s] = x.now.worst[s] + bend*x.way.worst[s]
	}
}

func (a *slope) dot(b *slope) float64 {
	sum := 0.0
	for i := range a.rows {
		sum += a.rows[i] * b.rows[i]
	}
	for s := range a.worst {
		sum += a.worst[s] * b.worst[s]
	}
	return sum
}
