package main

import (
	"context"
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"
	"sync"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/features"

	"github.com/paulmach/orb"
)

// layers of a base as features.
const (
	boreFeatures    = "bores"
	layerFeatures   = "layers"
	villageFeatures = "villages"
	pointFeatures   = "water-points"
)

// featured shows the present records as features.
type featured struct {
	*live
	mutex   sync.Mutex
	of      string // the state that the extents are of
	extents map[string]orb.Bound
}

// Collections lists what there is.
func (f *featured) Collections() []features.Collection {
	text, number, whole := "string", "number", "integer"
	return []features.Collection{
		{Name: boreFeatures, Title: "features.bores", Dated: true, Properties: []features.Property{
			{Name: "label", Type: text},
			{Name: "method", Type: text},
			{Name: "outcome", Type: text},
			{Name: "completed", Type: text},
			{Name: "depth_m", Type: number},
			{Name: "refusal_m", Type: number},
			{Name: "level_state", Type: text},
			{Name: "level_m", Type: number},
			{Name: "layers", Type: whole},
		}},
		{Name: layerFeatures, Title: "features.layers", Dated: true, Properties: []features.Property{
			{Name: "bore", Type: text}, {Name: "top_m", Type: number}, {Name: "base_m", Type: number}, {Name: "class", Type: text}, {Name: "grade", Type: text},
		}},
		{Name: villageFeatures, Title: "features.villages", Properties: []features.Property{{Name: "name", Type: text}, {Name: "people", Type: whole}}},
		{Name: pointFeatures, Title: "features.water-points", Dated: true, Properties: []features.Property{
			{Name: "name", Type: text}, {Name: "kind", Type: text}, {Name: "works", Type: "boolean"}, {Name: "users", Type: whole}, {Name: "depth_m", Type: number}, {Name: "last_visit", Type: text},
		}},
	}
}

// Select reads features of a collection.
func (f *featured) Select(ctx context.Context, name string, box *orb.Bound, keep func(*features.Feature) bool, from, limit int) ([]features.Feature, int, error) {
	s := f.evidence.Snapshot()
	if name == boreFeatures && keep == nil {
		page, total := boresOf(s, box, from, limit)
		return page, total, nil
	}
	var page []features.Feature
	total := 0
	err := f.each(ctx, s, name, box, func(x features.Feature) (more bool) {
		if keep != nil && !keep(&x) {
			return true
		}
		if keep != nil && total == from+limit { // there is a next page, and that is enough
			total = features.Unknown
			return false
		}
		if total >= from && len(page) < limit {
			page = append(page, x)
		}
		total++
		return true
	})
	return page, total, err
}

// boresOf reads a page of bores without looking at the others.
func boresOf(s *evidence.Snapshot, box *orb.Bound, from, limit int) (page []features.Feature, total int) {
	if box != nil {
		bores, total := s.Page(*box, from, limit)
		for _, b := range bores {
			page = append(page, boreFeature(b))
		}
		return page, total
	}
	for i := from; i < min(from+limit, s.Len()); i++ {
		page = append(page, boreFeature(s.At(i)))
	}
	return page, s.Len()
}

// each calls fn with the features of a collection in a box, in the order of their ids,
// until it wants no more.
func (f *featured) each(ctx context.Context, s *evidence.Snapshot, name string, box *orb.Bound, fn func(features.Feature) bool) error {
	for x := range f.all(s, name) {
		if features.Within(box, x.At) && !fn(x) {
			break
		}
	}
	return ctx.Err()
}

// all yields the features of a collection in the order of their ids.
func (f *featured) all(s *evidence.Snapshot, name string) iter.Seq[features.Feature] {
	switch name {
	case boreFeatures:
		return func(yield func(features.Feature) bool) {
			for i := 0; i < s.Len() && yield(boreFeature(s.At(i))); i++ {
			}
		}
	case layerFeatures:
		return func(yield func(features.Feature) bool) { eachLayer(s, yield) }
	case villageFeatures:
		villages := byID(f.places.Load().villages, func(v geo.Village) string { return string(v.ID) })
		return func(yield func(features.Feature) bool) {
			for i := 0; i < len(villages) && yield(villageFeature(villages[i])); i++ {
			}
		}
	}
	points := byID(f.places.Load().points, func(w geo.WaterPoint) string { return string(w.ID) })
	return func(yield func(features.Feature) bool) {
		for i := 0; i < len(points) && yield(pointFeature(points[i])); i++ {
		}
	}
}

func eachLayer(s *evidence.Snapshot, yield func(features.Feature) bool) {
	for i := range s.Len() {
		b := s.At(i)
		for k := range b.Layers {
			if !yield(layerFeature(b, k)) {
				return
			}
		}
	}
}

func byID[T any](list []T, id func(T) string) []T {
	return slices.SortedFunc(slices.Values(list), func(a, b T) int { return strings.Compare(id(a), id(b)) })
}

// Find reads one feature.
func (f *featured) Find(ctx context.Context, name, id string) (features.Feature, error) {
	s := f.evidence.Snapshot()
	switch name {
	case boreFeatures:
		if b := s.Find(geo.BoreID(id)); b != nil {
			return boreFeature(b), nil
		}
	case layerFeatures:
		bore, number, _ := strings.Cut(id, ".")
		k, err := strconv.Atoi(number)
		if b := s.Find(geo.BoreID(bore)); b != nil && err == nil && k >= 1 && k <= len(b.Layers) {
			return layerFeature(b, k-1), nil
		}
	default:
		var found []features.Feature
		err := f.each(ctx, s, name, nil, func(x features.Feature) bool {
			if x.ID == id {
				found = append(found, x)
			}
			return len(found) == 0
		})
		if err != nil || len(found) > 0 {
			return append(found, features.Feature{})[0], err
		}
	}
	return features.Feature{}, geo.Fail(geo.NotFound, "features.Find", geo.Say("features.none", geo.With("value", geo.Text(id))), nil)
}

// Extent is the box of all features of a collection, measured once for a state of the
// records.
func (f *featured) Extent(ctx context.Context, name string) (orb.Bound, bool, error) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if id := f.adviser.Load().ID(); f.of != id {
		f.of, f.extents = id, map[string]orb.Bound{}
	}
	if box, known := f.extents[name]; known {
		return box, true, nil
	}
	box, there := orb.Bound{}, false
	err := f.each(ctx, f.evidence.Snapshot(), name, nil, func(x features.Feature) bool {
		if !there {
			box, there = x.At.Bound(), true
		}
		box = box.Extend(x.At)
		return true
	})
	if there && err == nil {
		f.extents[name] = box
	}
	return box, there, err
}

func lonLat(at coord.LonLat) orb.Point { return orb.Point{at.Lon, at.Lat} }

func boreFeature(b *evidence.Bore) features.Feature {
	x := features.Feature{ID: string(b.ID), At: lonLat(b.Pos), On: b.Completed, Values: []any{
		word(b.Label), word(b.Method), word(b.Outcome), day(b.Completed), known(b.DepthM), known(b.RefusalM), nil, nil, len(b.Layers),
	}}
	if len(b.Levels) > 0 {
		l := b.Levels[0]
		x.Values[6] = word(l.State)
		if l.State != geo.LevelFlowing {
			x.Values[7] = short(l.DepthM)
		}
	}
	return x
}

func layerFeature(b *evidence.Bore, k int) features.Feature {
	l := b.Layers[k]
	x := features.Feature{ID: fmt.Sprintf("%s.%d", b.ID, k+1), At: lonLat(b.Pos), On: b.Completed}
	x.Values = []any{word(b.ID), short(l.TopM), short(l.BaseM), word(l.Class.String()), word(l.Grade.String())}
	return x
}

func villageFeature(v geo.Village) features.Feature {
	return features.Feature{ID: string(v.ID), At: lonLat(v.Position.Pos), Values: []any{word(v.Name), known(v.People)}}
}

func pointFeature(w geo.WaterPoint) features.Feature {
	x := features.Feature{ID: string(w.ID), At: lonLat(w.Position.Pos)}
	for _, v := range w.Visits {
		if v.On.Compare(x.On) > 0 {
			x.On = v.On
		}
	}
	x.Values = []any{word(w.Name), word(w.Kind), known(w.Works), known(w.Users), known(w.DepthM), day(x.On)}
	return x
}

// short is a number that was kept in few bytes, with the digits that it was written with.
func short(v float32) any {
	x, _ := strconv.ParseFloat(strconv.FormatFloat(float64(v), 'f', -1, 32), 64)
	return x
}

func word[S ~string](s S) any {
	if s == "" {
		return nil
	}
	return string(s)
}

func known[T any](v geo.Opt[T]) any {
	if x, ok := v.Get(); ok {
		return x
	}
	return nil
}

func day(d geo.Date) any {
	if d == (geo.Date{}) {
		return nil
	}
	return d.String()
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
