package evidence

import (
	"iter"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Each yields every bore with a position in the order of their ids. It is by far the
// fastest way through all of them.
func (s *Snapshot) Each(yield func(*Bore) bool) { s.From(0)(yield) }

// From is [Snapshot.Each] without the first n bores.
func (s *Snapshot) From(n int) iter.Seq[*Bore] {
	return func(yield func(*Bore) bool) {
		n := n
		for _, page := range s.bores.pages {
			skip := min(n, len(page.bores))
			n -= skip
			for _, b := range page.bores[skip:] {
				if !yield(b) {
					return
				}
			}
		}
	}
}

// In returns the bores in a box in the order of their ids; false where there are more than
// most, so that going through all is as good.
func (s *Snapshot) In(box orb.Bound, most int) ([]*Bore, bool) {
	entries, whole := s.views[all].WithinBoxUpTo(box, most)
	if !whole {
		return nil, false
	}
	bores := make([]*Bore, len(entries))
	for i, e := range entries {
		bores[i] = s.bores.get(geo.BoreID(e.ID))
	}
	return bores, true
}

// Find returns the bore with an id that has a position; nil where there is none.
func (s *Snapshot) Find(id geo.BoreID) *Bore {
	if _, there := s.views[all].Find(string(id)); !there {
		return nil
	}
	return s.bores.get(id)
}
