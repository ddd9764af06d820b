package strata

import "math"

// forest is how the layers of a region follow the shape of its land: trees that part logs by
// the terms of their land so that those in one leaf have like layers. Two places stand the
// closer the more trees take them to the same leaf. The zero value knows of no land.
type forest struct {
	trees []tree
	seen  [][]bool // of each log, by which trees; nil of one that taught nothing
}

// tree is a binary tree, its root first.
type tree []cut

// cut parts places by a term of their land; a leaf has a number and no term.
type cut struct {
	term        int
	below       float64
	left, right int // places of what follows, below and from there on
	leaf        uint8
}

const noTerm = -1

// unseen stands for the leaf of a tree that does not count for a log: it has seen it.
const unseen = math.MaxUint8

// at returns the leaf of each tree at a place; nil where its land is not known.
func (f *forest) at(s Setting) []uint8 {
	if s == nil || len(f.trees) == 0 {
		return nil
	}
	out := make([]uint8, len(f.trees))
	for i, t := range f.trees {
		out[i] = t.leaf(s)
	}
	return out
}

// without returns the leaves of a log by the trees that were grown without it.
func (f *forest) without(log int, s Setting) []uint8 {
	out := f.at(s)
	for t := range out {
		if seen := f.seen[log]; seen != nil && seen[t] {
			out[t] = unseen
		}
	}
	return out
}

func (t tree) leaf(s Setting) uint8 {
	at := 0
	for t[at].term != noTerm {
		if c := &t[at]; s[c.term] < c.below {
			at = c.left
		} else {
			at = c.right
		}
	}
	return t[at].leaf
}

// apart is how far two places stand apart: minus the logarithm of the share of the trees that
// take them to the same leaf, one more such tree being counted in; 0 where one is not known.
//
//   - Source: the proximity of Breiman (2001).
//   - Checked by: TestLeavesByHand.
func apart(a, b []uint8) float64 {
	if a == nil || b == nil {
		return 0
	}
	same, all := 1, 1
	for t, leaf := range a {
		if leaf == unseen {
			continue
		}
		all++
		if leaf == b[t] {
			same++
		}
	}
	return math.Log(float64(all) / float64(same))
}
