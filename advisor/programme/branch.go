package programme

import (
	"container/heap"
	"math"
	"slices"
)

// node is one branch: the villages decided so far.
type node struct {
	bound  float64
	number int // in order of making, so that equal bounds have an order
	fixed  [][2]int32
	prices *prices
}

// order is which branch comes next.
type order uint8

const (
	bestFirst order = iota // highest bound: lowers the bound of the whole
	deepFirst              // most decided, then highest bound: finds programmes soon
)

// open is the branches to look at.
type open struct {
	nodes []*node
	by    order
}

func (o *open) Len() int { return len(o.nodes) }

func (o *open) Less(i, j int) bool {
	a, b := o.nodes[i], o.nodes[j]
	if o.by == deepFirst && len(a.fixed) != len(b.fixed) {
		return len(a.fixed) > len(b.fixed)
	}
	if a.bound != b.bound {
		return a.bound > b.bound
	}
	return a.number > b.number // the youngest, which is the deepest
}

func (o *open) Swap(i, j int) { o.nodes[i], o.nodes[j] = o.nodes[j], o.nodes[i] }

// Push adds a branch, for package heap.
func (o *open) Push(x any) { o.nodes = append(o.nodes, x.(*node)) }

// Pop takes the last branch, for package heap.
func (o *open) Pop() any {
	last := o.nodes[len(o.nodes)-1]
	o.nodes = o.nodes[:len(o.nodes)-1]
	return last
}

// branch closes the distance to the bound, as far as the limits allow, and returns the
// bound of what is left; the first one where branches were not taken best first.
func (s *search) branch(root lowered, by order) float64 {
	queue := &open{nodes: []*node{{bound: root.bound, prices: &root.prices}}, by: by}
	made := 0
	for queue.Len() > 0 {
		bound := root.bound
		if by == bestFirst {
			bound = max(queue.nodes[0].bound, s.score)
		}
		if s.done(bound) {
			return bound
		}
		n := heap.Pop(queue).(*node)
		for _, child := range s.explore(n) {
			made++
			child.number = made
			heap.Push(queue, child)
		}
	}
	return s.score
}

// nodeWork is what a branch takes whatever the columns, in columns looked at.
const nodeWork = 1000

// explore lowers the bound of one branch and parts it by one village.
func (s *search) explore(n *node) []*node {
	d := s.whole()
	for _, f := range n.fixed {
		d.fixed[f[0]] = f[1]
	}
	s.spent += nodeWork
	low := s.r.descend(*n.prices, d, s.score, nodeSteps)
	low.bound = min(low.bound, n.bound)
	if low.bound <= s.score+s.margin() {
		return nil
	}
	got := s.price(&low, d)
	s.heuristics(&low, got, d, 4*len(s.m.cols))
	if low.bound <= s.score+s.margin() {
		return nil
	}
	v, any := s.undecided(&low, got, d)
	if !any {
		s.offer(from(s.m, d.fixed))
		return nil
	}
	return s.children(n, v, &low, got)
}

// undecided is the village on which the descent swayed most.
func (s *search) undecided(low *lowered, got *relaxed, d *domain) (v int32, any bool) {
	most, least := -1.0, math.Inf(1)
	for u := range s.m.of {
		if d.fixed[u] != free || s.m.of[u][0] == s.m.of[u][1] {
			continue
		}
		top, out := 0.0, 1.0
		near := got.without[u]
		if near == 0 {
			near = math.Inf(1)
		}
		for j := s.m.of[u][0]; j < s.m.of[u][1]; j++ {
			top, out = max(top, low.share[j]), out-low.share[j]
			if got.regret[j] > 0 {
				near = min(near, got.regret[j])
			}
		}
		sway := math.Round((1-max(top, out))*100) / 100 // so that rounding decides nothing
		if sway > most || sway == most && near < least {
			v, any, most, least = int32(u), true, sway, near
		}
	}
	return v, any
}

// children makes a branch for each column that a village may still take, and one without it.
func (s *search) children(n *node, v int32, low *lowered, got *relaxed) (out []*node) {
	add := func(j int32, fall float64) {
		bound := min(low.bound, got.bound-fall)
		if bound > s.score+s.margin() {
			fixed := append(slices.Clone(n.fixed), [2]int32{v, j})
			out = append(out, &node{bound: bound, fixed: fixed, prices: &low.prices})
		}
	}
	for j := s.m.of[v][0]; j < s.m.of[v][1]; j++ {
		if !s.dead[j] {
			add(j, got.regret[j])
		}
	}
	add(left, got.without[v])
	return out
}
