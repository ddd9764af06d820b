package evidence

import (
	"context"

	"waterstrike/geo"
	"waterstrike/geo/index"
)

// Advance returns the snapshot of the source's present state; the receiver itself when
// nothing has changed. Only the bores touched since are read.
func (s *Snapshot) Advance(ctx context.Context, src Source) (*Snapshot, error) {
	ids, last, err := src.ChangedSince(ctx, s.seq)
	if err != nil {
		return nil, err
	}
	if last == s.seq {
		return s, nil
	}
	now, reader := map[geo.BoreID]*Bore{}, newReader(1)
	err = src.BoresByID(ctx, ids, func(record geo.Bore) error {
		if b := reader.read(record); b != nil {
			now[b.ID] = b
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	next := &Snapshot{seq: last, rate: s.rate, points: s.points, land: s.land, bores: s.bores.with(ids, now)}
	if next.points, err = s.pointsSince(ctx, src); err != nil {
		return nil, err
	}
	for _, id := range ids {
		if old := s.bores.get(id); old != nil {
			next.rate.count(old, -1)
		}
		if b := now[id]; b != nil {
			next.rate.count(b, 1)
		}
	}
	next.views, err = eachView(func(v view) (*index.Index, error) { return moved(s.views[v], ids, now, v) })
	if err != nil {
		return nil, err
	}
	return next, nil
}

// pointsSince reads the water points again where one has changed.
func (s *Snapshot) pointsSince(ctx context.Context, src Source) (*points, error) {
	from, ok := src.(PointSource)
	if !ok {
		return s.points, nil
	}
	changed, err := from.PointsChangedSince(ctx, s.seq)
	if err != nil || !changed {
		return s.points, err
	}
	return readPoints(ctx, src)
}

// moved puts the bores of a view into its index and drops the other ids.
func moved(ix *index.Index, ids []geo.BoreID, now map[geo.BoreID]*Bore, v view) (*index.Index, error) {
	var put []index.Entry
	var drop []string
	for _, id := range ids {
		if b := now[id]; b != nil && v.shows(b) {
			put = append(put, b.entry())
			continue
		}
		drop = append(drop, string(id))
	}
	return ix.With(put, drop)
}
