package evidence

import (
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/index"
)

// Bores returns every bore with a position in order of id.
func (s *Snapshot) Bores() []*Bore { return s.sample(all, s.Len()) }

// Without returns the snapshot as if some bores, and the water points that stand on them,
// had never been recorded. It shares everything else with the receiver.
func (s *Snapshot) Without(ids []geo.BoreID) (*Snapshot, error) {
	ids = slices.Compact(slices.Sorted(slices.Values(ids)))
	out := &Snapshot{land: s.land, seq: s.seq, hidden: s.hidden + len(ids), rate: s.rate, bores: s.bores.with(ids, nil)}
	var hidden []*Bore
	for _, id := range ids {
		if b := s.bores.get(id); b != nil {
			out.rate.count(b, -1)
			hidden = append(hidden, b)
		}
	}
	var err error
	if out.points, err = s.points.without(hidden); err != nil {
		return nil, err
	}
	out.views, err = eachView(func(v view) (*index.Index, error) { return moved(s.views[v], ids, nil, v) })
	return out, err
}
