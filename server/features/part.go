package features

import (
	"context"
	"slices"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Part is a source of which only some is told: the collections and properties by name.
type Part struct {
	Whole Source
	Told  map[string][]string
}

// Collections lists what is told.
func (p Part) Collections() (out []Collection) {
	for _, c := range p.Whole.Collections() {
		kept := c.Properties
		c.Properties = nil
		for _, i := range p.places(c.Name, kept) {
			c.Properties = append(c.Properties, kept[i])
		}
		if p.Told[c.Name] != nil {
			out = append(out, c)
		}
	}
	return out
}

// places are where the properties that are told stand among all of a collection.
func (p Part) places(name string, all []Property) (out []int) {
	for i, x := range all {
		if slices.Contains(p.Told[name], x.Name) {
			out = append(out, i)
		}
	}
	return out
}

// within returns the places of the properties told of a collection; [geo.NotFound] where
// it is not told at all.
func (p Part) within(name string) ([]int, error) {
	for _, c := range p.Whole.Collections() {
		if c.Name == name && p.Told[name] != nil {
			return p.places(name, c.Properties), nil
		}
	}
	return nil, geo.Fail(geo.NotFound, "features.Part", geo.Say("problem.page-not-found"), nil)
}

// Extent is the box of a collection that is told.
func (p Part) Extent(ctx context.Context, name string) (orb.Bound, bool, error) {
	if _, err := p.within(name); err != nil {
		return orb.Bound{}, false, err
	}
	return p.Whole.Extent(ctx, name)
}

// Select reads features with the properties that are told; others cannot be asked for.
func (p Part) Select(ctx context.Context, name string, w Where, from, limit int) ([]Feature, int, error) {
	places, err := p.within(name)
	if err != nil {
		return nil, 0, err
	}
	w.Equal = slices.Clone(w.Equal)
	for i := range w.Equal {
		w.Equal[i].Property = places[w.Equal[i].Property]
	}
	page, total, err := p.Whole.Select(ctx, name, w, from, limit)
	for i := range page {
		page[i] = page[i].only(places)
	}
	return page, total, err
}

// Find reads one feature with the properties that are told.
func (p Part) Find(ctx context.Context, name, id string) (Feature, error) {
	places, err := p.within(name)
	if err != nil {
		return Feature{}, err
	}
	f, err := p.Whole.Find(ctx, name, id)
	if err != nil {
		return Feature{}, err
	}
	return f.only(places), nil
}

// only is the feature with the values at some places.
func (f Feature) only(places []int) Feature {
	values := make([]any, len(places))
	for i, at := range places {
		values[i] = f.Values[at]
	}
	f.Values = values
	return f
}
