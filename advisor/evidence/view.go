package evidence

import (
	"errors"
	"sync"

	"waterstrike/geo/index"
)

// view is a set of bores that is searched by place.
type view int

const (
	all       view = iota
	described      // bores with a known layer
	levelled       // bores that state a level
	sampled        // bores with water samples
	views          // how many there are
)

// shows reports that a bore is in the view.
func (v view) shows(b *Bore) bool {
	switch v {
	case described:
		return HasLayers(b)
	case levelled:
		return HasLevel(b)
	case sampled:
		return HasWater(b)
	}
	return true
}

// entries lists those of the bores that are in the view.
func (v view) entries(bores []*Bore) []index.Entry {
	n := 0
	for _, b := range bores {
		if v.shows(b) {
			n++
		}
	}
	out := make([]index.Entry, 0, n)
	for _, b := range bores {
		if v.shows(b) {
			out = append(out, b.entry())
		}
	}
	return out
}

func (b *Bore) entry() index.Entry { return index.Entry{ID: string(b.ID), Pos: b.Pos} }

// eachView makes the index of every view, all at the same time.
func eachView(of func(view) (*index.Index, error)) (out [views]*index.Index, err error) {
	var making sync.WaitGroup
	var failed [views]error
	for v := range views {
		making.Go(func() { out[v], failed[v] = of(v) })
	}
	making.Wait()
	return out, errors.Join(failed[:]...)
}
