package evidence

import (
	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// At returns the i-th bore with a position in the order of their ids, 0 <= i < Len.
func (s *Snapshot) At(i int) *Bore { return s.bores.get(geo.BoreID(s.views[all].At(i).ID)) }

// Page returns at most limit bores in a box in the order of their ids, beginning with the
// one at from, and how many lie in it. [Snapshot.Within] shows the first page.
func (s *Snapshot) Page(box orb.Bound, from, limit int) (shown []*Bore, total int) {
	entries := s.views[all].WithinBox(box)
	for _, e := range entries[min(from, len(entries)):min(from+limit, len(entries))] {
		shown = append(shown, s.bores.get(geo.BoreID(e.ID)))
	}
	return shown, len(entries)
}

// Find returns the bore with an id that has a position; nil where there is none.
func (s *Snapshot) Find(id geo.BoreID) *Bore {
	if _, there := s.views[all].Find(string(id)); !there {
		return nil
	}
	return s.bores.get(id)
}
