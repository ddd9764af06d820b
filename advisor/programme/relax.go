package programme

import (
	"math"
	"math/bits"
	"slices"
)

// domain is what a branch of the search still allows.
type domain struct {
	dead  []bool  // columns that no better programme holds; shared by all branches
	fixed []int32 // of each village: free, left, or the column it takes
}

const (
	free int32 = -1
	left int32 = -2 // out of the programme
)

// relaxed is the best choice at some prices, round by round, and the bound it proves.
type relaxed struct {
	bound   float64
	pick    []int32   // column of each village, or left
	reduced []float64 // of each column: what it is worth less what it takes
	regret  []float64 // of each column: how much the bound falls when its village takes it
	without []float64 // of each village: how much it falls when it is left out
}

// relaxer works out relaxed choices with its own space for them.
type relaxer struct {
	m      *model
	out    relaxed
	values []float64 // of each column under the present weights of scenarios
	best   []float64 // of each village and window: the best reduced value
	bestOf []int32
	sets   []float64 // of each set of windows: the worth of the round at hand
	own    []float64 // and of the village at hand
	busy   []int32   // villages of the round at hand that do something
	work   int       // columns looked at
}

func newRelaxer(m *model) *relaxer {
	n := len(m.cols)
	r := &relaxer{m: m, values: make([]float64, n)}
	r.out = relaxed{pick: make([]int32, len(m.of)), reduced: make([]float64, n), regret: make([]float64, n), without: make([]float64, len(m.of))}
	r.best, r.bestOf = make([]float64, len(m.of)*m.windows), make([]int32, len(m.of)*m.windows)
	r.sets, r.own = make([]float64, 1<<m.windows), make([]float64, 1<<m.windows)
	for v := range r.out.pick {
		r.out.pick[v], r.out.without[v] = left, 0
	}
	if !m.goal.blind && m.goal.caution == 0 {
		for j := range m.cols {
			r.values[j] = m.cols[j].mean
		}
	}
	return r
}

// weigh sets the values of the columns under weights of the scenarios.
func (r *relaxer) weigh(worst []float64) {
	if worst == nil {
		return
	}
	weights := r.m.goal.tilted(worst)
	for j := range r.m.cols {
		v := 0.0
		for s, x := range r.m.cols[j].served {
			v += weights[s] * x
		}
		r.values[j] = v
	}
	r.work += len(r.m.cols) * len(weights) / 4 // a plain sum of products, cheaper than a look
}

// at returns the best choice at some prices,
//
//	L = Σ rows + Σ over rounds of max over sets of windows S of
//	    [Σ over its villages of the best reduced column within S - trips into S] - Σ floors,
//
// which no programme within the domain exceeds. The answer is overwritten by the next call.
func (r *relaxer) at(p *prices, d *domain) *relaxed {
	m, out := r.m, &r.out
	r.work += len(m.cols)
	out.bound = p.money
	for _, w := range p.weeks {
		out.bound += w
	}
	for i, f := range p.floors {
		out.bound -= min(f, m.floors[i].penalty)
	}
	out.bound += m.still
	for k := range m.rounds {
		for _, v := range m.rounds[k].villages {
			r.reduce(v, p, d)
		}
		out.bound += r.round(&m.rounds[k], p, d)
	}
	return out
}

// reduce finds the best column of a village in each window.
func (r *relaxer) reduce(v int32, p *prices, d *domain) {
	m := r.m
	base := int(v) * m.windows
	for w := range m.windows {
		r.best[base+w], r.bestOf[base+w] = math.Inf(-1), left
	}
	perVillage := 0.0
	for _, f := range m.owes[v] {
		if !m.floors[f].people {
			perVillage += p.floors[f] * m.floors[f].share
		}
	}
	for j := m.of[v][0]; j < m.of[v][1]; j++ {
		if d.dead[j] || d.fixed[v] != free && d.fixed[v] != j {
			r.out.reduced[j] = math.Inf(-1)
			continue
		}
		u := &m.use[j]
		w := int(u.window)
		x := r.values[j] + perVillage - p.money*u.money - p.weeks[w]*u.weeks
		for _, f := range m.owes[v] {
			if m.floors[f].people {
				x += p.floors[f] * m.floors[f].gives[j]
			}
		}
		r.out.reduced[j] = x
		if x > r.best[base+w] {
			r.best[base+w], r.bestOf[base+w] = x, j
		}
	}
}

// outWorth is what leaving a village out is worth in this domain.
func (r *relaxer) outWorth(v int32, d *domain) float64 {
	if d.fixed[v] >= 0 {
		return math.Inf(-1)
	}
	return r.m.goal.out[v]
}

// within fills own with the best that a village does with the windows of each set.
func (r *relaxer) within(v int32, d *domain) {
	best := r.best[int(v)*r.m.windows:]
	r.own[0] = r.outWorth(v, d)
	for set := 1; set < len(r.own); set++ {
		r.own[set] = max(r.own[set&(set-1)], best[bits.TrailingZeros(uint(set))])
	}
}

// taken is the column that a village takes with the windows of a set.
func (r *relaxer) taken(v int32, set int, d *domain) int32 {
	worth, pick := r.outWorth(v, d), left
	for w := range r.m.windows {
		if x := r.best[int(v)*r.m.windows+w]; set&(1<<w) != 0 && x > worth {
			worth, pick = x, r.bestOf[int(v)*r.m.windows+w]
		}
	}
	return pick
}

// round decides one round exactly and returns its worth.
func (r *relaxer) round(k *round, p *prices, d *domain) float64 {
	sure := r.split(k, d)
	if len(r.busy) == 0 {
		return sure
	}
	best := r.weighSets(k, p, d, sure)
	for _, v := range r.busy {
		r.out.pick[v] = r.taken(v, best, d)
	}
	return r.sets[best]
}

// split finds the villages of a round that do something at these prices and returns what
// the others are worth, whatever the set.
func (r *relaxer) split(k *round, d *domain) (sure float64) {
	r.busy = r.busy[:0]
	for _, v := range k.villages {
		out := r.outWorth(v, d)
		if slices.Max(r.best[int(v)*r.m.windows:int(v+1)*r.m.windows]) <= out {
			sure += out
			r.out.pick[v] = left
		} else {
			r.busy = append(r.busy, v)
		}
	}
	return sure
}

// weighSets fills sets with the worth of the round for each set of windows and returns the
// best. A free round may use every window, one that pays for trips tries every set.
func (r *relaxer) weighSets(k *round, p *prices, d *domain, sure float64) (best int) {
	r.sets[0] = sure
	for set := 1; set < len(r.sets); set++ {
		w := bits.TrailingZeros(uint(set))
		r.sets[set] = r.sets[set&(set-1)] - p.money*k.money - p.weeks[w]*k.weeks[w]
	}
	for _, v := range r.busy {
		r.within(v, d)
		for set, worth := range r.own {
			r.sets[set] += worth
		}
	}
	for set, x := range r.sets {
		if x > r.sets[best] {
			best = set
		}
	}
	return best
}

// regrets works out how much the bound of [relaxer.at], called before with the same prices,
// falls for each column that a village takes and for each village left out.
func (r *relaxer) regrets(p *prices, d *domain) {
	m := r.m
	in := make([]float64, m.windows) // best of the others with a trip into this window
	for i := range m.rounds {
		k := &m.rounds[i]
		best := r.weighSets(k, p, d, r.split(k, d))
		whole := r.sets[best]
		for _, v := range k.villages {
			any := math.Inf(-1)
			for w := range in {
				in[w] = math.Inf(-1)
			}
			r.within(v, d)
			for set, own := range r.own {
				if math.IsInf(own, -1) {
					continue
				}
				others := r.sets[set] - own
				any = max(any, others)
				for w := range in {
					if set&(1<<w) != 0 {
						in[w] = max(in[w], others)
					}
				}
			}
			for j := m.of[v][0]; j < m.of[v][1]; j++ {
				r.out.regret[j] = whole - in[m.cols[j].window] - r.out.reduced[j]
			}
			r.out.without[v] = whole - any - r.outWorth(v, d)
		}
	}
}
