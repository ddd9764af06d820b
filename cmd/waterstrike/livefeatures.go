package main

import (
	"context"
	"iter"
	"slices"
	"strconv"
	"strings"
	"sync"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/server/features"

	"github.com/paulmach/orb"
)

// featured shows the present records, and the advice over the region, as features.
type featured struct {
	*live
	mutex   sync.Mutex
	of      string // the state that the extents are of
	extents map[string]orb.Bound
	squares squares
}

// Collections lists what there is.
func (f *featured) Collections() []features.Collection {
	return []features.Collection{
		boreTable().Described(), layerTable().Described(), villageTable().Described(), waterPointTable().Described(), adviceCollection(),
	}
}

// mostByPlace is how many bores are looked up one by one; where more lie in a box, going
// through all in the order of their ids is as fast.
const mostByPlace = 10_000

// Select reads features of a collection.
func (f *featured) Select(ctx context.Context, name string, w features.Where, from, limit int) (page []features.Feature, total int, err error) {
	s := f.evidence.Snapshot()
	bores := s.Each
	ofBores := name == boreFeatures || name == layerFeatures
	if w.All() && ofBores {
		page, total = plainPage(s, name, w, from, limit)
		return page, total, nil
	}
	if w.Box != nil && w.Squares == nil && ofBores {
		if near, whole := s.In(*w.Box, mostByPlace); whole {
			w.Box, bores = nil, slices.Values(near)
		}
	}
	switch name {
	case boreFeatures:
		page, total = boreTable().Page(bores, w, from, limit)
	case layerFeatures:
		page, total = layerTable().Page(layersOf(bores), w, from, limit)
	case villageFeatures:
		page, total = villageTable().Page(slices.Values(f.places.Load().villagesByID), w, from, limit)
	case pointFeatures:
		page, total = waterPointTable().Page(slices.Values(f.places.Load().pointsByID), w, from, limit)
	default:
		return f.selectAdvice(ctx, w, from, limit)
	}
	return page, total, ctx.Err()
}

// plainPage reads a page of all bores, or of all their layers, without looking at those
// before it.
func plainPage(s *evidence.Snapshot, name string, w features.Where, from, limit int) ([]features.Feature, int) {
	if name == boreFeatures {
		return boreTable().First(s.From(from), w, 0, limit), s.Len()
	}
	total, rank, first, before := 0, 0, 0, 0 // the first bore of the page, and the layers before it
	for b := range s.Each {
		if total <= from {
			first, before = rank, total
		}
		total += len(b.Layers)
		rank++
	}
	return layerTable().First(layersOf(s.From(first)), w, from-before, limit), total
}

// layersOf yields the layers of bores.
func layersOf(bores iter.Seq[*evidence.Bore]) iter.Seq[layerOf] {
	return func(yield func(layerOf) bool) {
		for b := range bores {
			for k := range b.Layers {
				if !yield(layerOf{b, k}) {
					return
				}
			}
		}
	}
}

// Find reads one feature.
func (f *featured) Find(ctx context.Context, name, id string) (features.Feature, error) {
	s := f.evidence.Snapshot()
	switch name {
	case boreFeatures:
		if b := s.Find(geo.BoreID(id)); b != nil {
			return boreTable().Feature(b), nil
		}
	case layerFeatures:
		bore, number, _ := strings.Cut(id, ".")
		k, err := strconv.Atoi(number)
		if b := s.Find(geo.BoreID(bore)); b != nil && err == nil && k >= 1 && k <= len(b.Layers) {
			return layerTable().Feature(layerOf{b, k - 1}), nil
		}
	case villageFeatures:
		return found(villageTable(), f.places.Load().villagesByID, id)
	case pointFeatures:
		return found(waterPointTable(), f.places.Load().pointsByID, id)
	case adviceFeatures:
		return f.findAdvice(ctx, id)
	}
	return features.Feature{}, noFeature(id)
}

// found is the feature of the record with an id, among records in the order of these.
func found[T any](t *features.Table[T], records []T, id string) (features.Feature, error) {
	at, there := slices.BinarySearchFunc(records, id, func(x T, id string) int { return strings.Compare(t.ID(x), id) })
	if !there {
		return features.Feature{}, noFeature(id)
	}
	return t.Feature(records[at]), nil
}

func noFeature(id string) error {
	return geo.Fail(geo.NotFound, "features.Find", geo.Say("features.none", geo.With("value", geo.Text(id))), nil)
}

// Extent is the box of all features of a collection, measured once for a state of the
// records.
func (f *featured) Extent(_ context.Context, name string) (orb.Bound, bool, error) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if id := f.adviser.Load().ID(); f.of != id {
		f.of, f.extents = id, map[string]orb.Bound{}
	}
	if box, known := f.extents[name]; known {
		return box, true, nil
	}
	box, there := f.measured(name)
	if there {
		f.extents[name] = box
	}
	return box, there, nil
}

func (f *featured) measured(name string) (orb.Bound, bool) {
	s, p := f.evidence.Snapshot(), f.places.Load()
	switch name {
	case boreFeatures:
		return boxOf(s.Each, boreTable().At)
	case layerFeatures:
		return boxOf(layersOf(s.Each), layerTable().At)
	case villageFeatures:
		return boxOf(slices.Values(p.villagesByID), villageTable().At)
	case pointFeatures:
		return boxOf(slices.Values(p.pointsByID), waterPointTable().At)
	}
	return latticeOver(f.measured(boreFeatures)).box()
}

// boxOf is the box of records; false where there are none.
func boxOf[T any](records iter.Seq[T], at func(T) orb.Point) (box orb.Bound, there bool) {
	for x := range records {
		if p := at(x); there {
			box = box.Extend(p)
		} else {
			box, there = p.Bound(), true
		}
	}
	return box, there
}

// lastVisit keeps the last dated visit of a list.
func lastVisit(visits []geo.Visit) []geo.Visit {
	var last []geo.Visit
	for _, v := range visits {
		if v.On.Year > 0 && (last == nil || v.On.Compare(last[0].On) > 0) {
			last = []geo.Visit{v}
		}
	}
	return last
}
