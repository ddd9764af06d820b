package livehole

import (
	"math"
	"sync"
)

// flow is what happens below one depth, over all members: how likely a hole is still under
// way there, and what one more cell makes of it. Rows are by class of the last cell, first
// of holes without water, then of holes that met it.
type flow struct {
	alive [2 * classes]float64
	works [2 * classes]float64              // it becomes a well
	cost  [2 * classes]float64              // expected, of the cell
	on    [2 * classes][2 * classes]float64 // it goes on
}

// leastWeight is the chance below which a level is left out.
const leastWeight = 1e-6

// add takes over other flows.
func (f *flow) add(o *flow) {
	for i := range f.alive {
		f.alive[i] += o.alive[i]
		f.works[i] += o.works[i]
		f.cost[i] += o.cost[i]
		for j := range f.on[i] {
			f.on[i][j] += o.on[i][j]
		}
	}
}

// hands is into how many parts the levels are dealt, to be followed side by side: always as
// many, so that the sums do not depend on the computer.
const hands = 2

// drill lets a method go on below the bottom in every member, as far as it goes, and
// returns the flows by depth in cells; those above the bottom are empty.
func (p *Pack) drill(m *Method, h *hole, month int, looks []outlook) []flow {
	x := member{Pack: p, Method: m, ground: p.ground(m), cellCosts: p.costs(m)}
	for band := range p.Yield.Cell {
		x.all = append(x.all, p.bodies(band))
	}
	x.before = x.crossedSoFar(h)
	var flows [hands][]flow
	var working sync.WaitGroup
	for hand := range hands {
		working.Go(func() { flows[hand] = x.follow(hand, h, month, looks) })
	}
	working.Wait()
	for _, other := range flows[1:] {
		for z := range other {
			flows[0][z].add(&other[z])
		}
	}
	return flows[0]
}

// follow works out the levels of one hand.
func (x member) follow(hand int, h *hole, month int, looks []outlook) []flow {
	p := x.Pack
	x.flows, x.struck = make([]flow, p.Cells+1), make([]*states, p.Cells+1)
	x.spare = [2]*states{x.newStates(), x.newStates()}
	for i := hand; i < len(looks); i += hands {
		if looks[i].weight < leastWeight {
			continue
		}
		x.look, x.today = &looks[i], p.Level.Today[month-1][i]
		x.roof, x.ready = p.roof(p.Level.Design[i]), p.ready(x.Method, p.Level.Design[i])
		x.run(h)
	}
	return x.flows
}

// member is one level and, once water was met, one band of conductivity under one method.
type member struct {
	*Pack
	*Method
	*ground
	*bodies           // of the band that is followed
	all     []*bodies // of every band
	*cellCosts
	look   *outlook
	today  float64
	roof   int   // first cell that a screen may stand in
	ready  []int // by cell: least bin that gives enough above it
	before int   // how much of its main class they crossed
	flows  []flow
	spare  [2]*states
	// By depth in cells, those that met water in the cell above; nil or empty where none did.
	struck []*states
}

// run follows a level down: first the hole without water, which knows no band, then those
// that met it in every band; apart by the cell where they did if that decides how far the
// method goes.
func (x *member) run(h *hole) {
	deepest := x.cellsTo(x.MaxDepthM)
	x.bodies = nil
	x.dry(h, deepest)
	struck := x.struck
	for _, x.bodies = range x.all {
		share := 1 / float64(len(x.Yield.Cell))
		if h.strike >= 0 {
			struck[h.cells].empty(x.ground)
			x.begin(h, struck[h.cells])
		}
		if x.BelowWaterM >= x.MaxDepthM {
			x.wet(struck, h.cells, deepest, deepest, share)
			continue
		}
		for z := h.cells; z < deepest; {
			at := z - 1
			if z == h.cells {
				at = h.strike
			}
			to, limit := x.alike(struck, z, deepest), x.cellsTo(max(x.today, float64(at)*cellM)+x.BelowWaterM)
			x.wet(struck, z, to, min(deepest, limit), share)
			z = to + 1
		}
	}
}

// dry follows the hole without water and fills in struck.
func (x *member) dry(h *hole, deepest int) {
	for _, met := range x.struck {
		if met != nil {
			met.empty(x.ground)
		}
	}
	x.meet(h.cells)
	if h.strike >= 0 {
		return
	}
	now, next := x.spare[0], x.spare[1]
	now.empty(x.ground)
	x.begin(h, now)
	for z := h.cells; z < deepest; z++ {
		next.empty(x.ground)
		if middleM(z) > x.today {
			x.meet(z + 1)
		}
		x.step(z, 0, now, next, x.struck[z+1])
		now, next = next, now
	}
}

// meet makes room for those that meet water above a depth.
func (x *member) meet(z int) {
	if x.struck[z] == nil {
		x.struck[z] = x.newStates()
	}
}

// together are the most cells in which holes meet water and are still followed as one.
const together = 4

// alike returns the last depth down to which holes that met water from one on are followed
// together: fewer than Apart of them all, and as far as the first of them goes.
func (x *member) alike(struck []*states, from, deepest int) (to int) {
	mass := 0.0
	for to = from; ; to++ {
		if struck[to] != nil {
			mass += struck[to].mass(x.ground)
		}
		if mass >= x.Weights.Apart*x.look.weight || to+1 >= min(deepest, from+together) {
			return to
		}
	}
}

// cellsTo is how many cells a depth holds, to the nearest whole one.
func (x *member) cellsTo(depthM float64) int {
	return max(0, min(int(math.Floor(depthM/cellM+0.5)), x.Cells))
}

// wet follows a share of the holes that met water above the depths from..to down to a
// limit.
func (x *member) wet(struck []*states, from, to, limit int, share float64) {
	if from == to && (struck[from] == nil || struck[from].mass(x.ground) < x.Weights.Least) {
		return
	}
	now, next := x.spare[0], x.spare[1]
	now.empty(x.ground)
	for z := from; z < limit; z++ {
		if z <= to && struck[z] != nil {
			now.add(x.ground, struck[z], share)
		}
		next.empty(x.ground)
		x.step(z, classes, now, next, next)
		now, next = next, now
	}
}

// begin puts the hole as it stands into its states. At the surface it stands in the first
// class that is free: nothing follows from it.
func (x *member) begin(h *hole, into *states) {
	if h.cells == 0 {
		for k, most := range x.Cross {
			if most >= x.Cells {
				into.open(x.ground, x.block(x.first[k], 0))[0] = x.look.weight
				return
			}
		}
		return
	}
	last, run := h.run()
	t, body := 0.0, 0
	if x.bodies != nil {
		t, body = x.bodyAt(h, x.bodies, x.roof, h.cells)
	}
	for k, p := range x.look.bottom {
		cells := 1
		if k == last {
			cells = run
		}
		at := x.enter(k, cells)
		if at < 0 || p == 0 {
			continue
		}
		block, p := x.block(at, x.before), p*x.look.weight
		bins := into.open(x.ground, block)
		switch {
		case len(bins) == 1 || body == 0:
			bins[0] += p
		case body == 1:
			bins[oneCell] += p
		default:
			into.put(x.ground, block, x.bin(t), p)
		}
	}
}
