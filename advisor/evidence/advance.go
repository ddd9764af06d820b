package evidence

import (
	"context"
	"maps"

	"waterstrike/geo"
	"waterstrike/geo/index"
)

// catalogue finds bores by id: a base that snapshots share and what has changed since.
type catalogue struct {
	base    map[geo.BoreID]*Bore
	changed map[geo.BoreID]*Bore // nil: no longer visible
}

// mergeAt is the number of changes from which they are folded into a new base.
const mergeAt = 4096

func (c catalogue) get(id geo.BoreID) *Bore {
	if b, ok := c.changed[id]; ok {
		return b
	}
	return c.base[id]
}

// with returns a catalogue in which ids are what now says, or gone.
func (c catalogue) with(ids []geo.BoreID, now map[geo.BoreID]*Bore) catalogue {
	next := catalogue{base: c.base, changed: make(map[geo.BoreID]*Bore, len(c.changed)+len(ids))}
	maps.Copy(next.changed, c.changed)
	for _, id := range ids {
		next.changed[id] = now[id]
	}
	if len(next.changed) < mergeAt {
		return next
	}
	merged := maps.Clone(c.base)
	for id, b := range next.changed {
		if b == nil {
			delete(merged, id)
			continue
		}
		merged[id] = b
	}
	return catalogue{base: merged}
}

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
	now := map[geo.BoreID]*Bore{}
	err = src.BoresByID(ctx, ids, func(record geo.Bore) error {
		if b, ok := read(record); ok {
			now[b.ID] = &b
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	next := &Snapshot{seq: last, rate: s.rate, bores: s.bores.with(ids, now)}
	for _, id := range ids {
		if old := s.bores.get(id); old != nil {
			next.rate.count(old.Outcome, -1)
		}
		if b := now[id]; b != nil {
			next.rate.count(b.Outcome, 1)
		}
	}
	return next, next.reindex(s, ids, now)
}

func (s *Snapshot) reindex(old *Snapshot, ids []geo.BoreID, now map[geo.BoreID]*Bore) (err error) {
	any := func(*Bore) bool { return true }
	if s.all, err = moved(old.all, ids, now, any); err != nil {
		return err
	}
	if s.described, err = moved(old.described, ids, now, HasLayers); err != nil {
		return err
	}
	s.levelled, err = moved(old.levelled, ids, now, HasLevel)
	return err
}

// moved puts the bores for which keep holds into an index and drops the other ids.
func moved(ix *index.Index, ids []geo.BoreID, now map[geo.BoreID]*Bore, keep func(*Bore) bool) (*index.Index, error) {
	var put []index.Entry
	var drop []string
	for _, id := range ids {
		if b := now[id]; b != nil && keep(b) {
			put = append(put, b.entry())
			continue
		}
		drop = append(drop, string(id))
	}
	return ix.With(put, drop)
}
