package index

import (
	"cmp"
	"slices"
)

// With returns an index in which the dropped IDs are gone and the entries put
// are added, or moved if their ID was there. The receiver stays as it was, and
// both may be read, and advanced again, at the same time. Dropping an unknown ID
// does nothing; an ID both dropped and put is put. The errors are those of [New].
//
//   - Cost: copies 4 bytes an entry and the touched parts of the tree; see
//     BenchmarkWith.
//   - Checked by: TestWithAgainstScan, TestWithWhileReading.
func (ix *Index) With(put []Entry, drop []string) (*Index, error) {
	added, err := sortedByID(put)
	if err != nil {
		return nil, err
	}
	c := &change{old: ix, tree: ix.copyTree(), slots: edit(ix.slots), free: slices.Clone(ix.free)}
	for _, id := range sortedUnique(drop) {
		if _, isPut := slices.BinarySearchFunc(added, id, func(e Entry, id string) int { return cmp.Compare(e.ID, id) }); !isPut {
			c.drop(id)
		}
	}
	for _, e := range added {
		c.put(e)
	}
	return &Index{copying: ix.copying, tree: c.tree, slots: c.slots.slots, order: c.order(), free: c.free}, nil
}

func sortedUnique(ids []string) []string {
	ids = slices.Clone(ids)
	slices.Sort(ids)
	return slices.Compact(ids)
}

func (ix *Index) copyTree() *tree {
	ix.copying.Lock()
	defer ix.copying.Unlock()
	return ix.tree.Copy()
}

// change collects what With does before a new index is made of it.
type change struct {
	old   *Index
	tree  *tree
	slots *editor
	free  []int32
	steps []step
}

// step is one difference in the order of IDs, at a rank of the old order.
type step struct {
	rank int
	drop bool
	slot int32 // to come before that rank, unless drop
}

func (c *change) drop(id string) {
	rank, ok := c.old.rank(id)
	if !ok {
		return
	}
	slot := c.old.order[rank]
	remove(c.tree, slot, c.old.slots.at(slot).Pos)
	c.slots.set(slot, Entry{})
	c.free = append(c.free, slot)
	c.steps = append(c.steps, step{rank: rank, drop: true})
}

func (c *change) put(e Entry) {
	rank, ok := c.old.rank(e.ID)
	var slot int32
	if ok {
		slot = c.old.order[rank]
		remove(c.tree, slot, c.old.slots.at(slot).Pos)
	} else {
		slot = c.takeSlot()
		c.steps = append(c.steps, step{rank: rank, slot: slot})
	}
	c.slots.set(slot, e)
	insert(c.tree, slot, e.Pos)
}

func (c *change) takeSlot() int32 {
	if n := len(c.free); n > 0 {
		slot := c.free[n-1]
		c.free = c.free[:n-1]
		return slot
	}
	return c.slots.used
}

// order returns the old order with the steps taken.
func (c *change) order() []int32 {
	slices.SortStableFunc(c.steps, func(a, b step) int {
		if a.rank == b.rank && a.drop != b.drop {
			if a.drop {
				return 1
			}
			return -1
		}
		return cmp.Compare(a.rank, b.rank)
	})
	out := make([]int32, 0, len(c.old.order)+len(c.steps))
	at := 0
	for _, s := range c.steps {
		out = append(out, c.old.order[at:s.rank]...)
		at = s.rank
		if s.drop {
			at++
		} else {
			out = append(out, s.slot)
		}
	}
	return append(out, c.old.order[at:]...)
}
