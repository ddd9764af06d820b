package sheettest

import (
	"context"
	"slices"

	"waterstrike/geo"
	"waterstrike/server/features"

	"github.com/paulmach/orb"
)

// Features is a source of one collection: 25 bores from west to east, a tenth of a degree
// apart, one in each month from January 2020.
type Features struct{}

// table makes features of them; each is known by its number.
func table() *features.Table[int] {
	return &features.Table[int]{
		Collection: features.Collection{Name: "bores", Title: "features.bores"},
		ID:         func(i int) string { return "b" + string(rune('a'+i)) },
		At:         func(i int) orb.Point { return orb.Point{float64(i) / 10, 0.5} },
		On:         func(i int) geo.Date { return geo.Date{Year: 2020 + i/12, Month: 1 + i%12, Day: 5} },
		Columns: []features.Column[int]{
			{Name: "outcome", Text: func(i int) string { return []string{"dry", "producing", "producing", "producing", "producing"}[i%5] }},
			{Name: "depth_m", Number: func(i int) geo.Opt[float64] { return geo.Some(10 + float64(i)/2) }},
		},
	}
}

func all() (out []int) {
	for i := range 25 {
		out = append(out, i)
	}
	return out
}

// Collections lists the bores.
func (Features) Collections() []features.Collection {
	return []features.Collection{table().Described()}
}

// Extent is the box of the bores.
func (Features) Extent(context.Context, string) (orb.Bound, bool, error) {
	return orb.Bound{Min: orb.Point{0, 0.5}, Max: orb.Point{2.4, 0.5}}, true, nil
}

// Select reads them one by one.
func (Features) Select(_ context.Context, _ string, w features.Where, from, limit int) ([]features.Feature, int, error) {
	page, total := table().Page(slices.Values(all()), w, from, limit)
	return page, total, nil
}

// Find reads one.
func (Features) Find(_ context.Context, _, id string) (features.Feature, error) {
	for _, i := range all() {
		if t := table(); t.ID(i) == id {
			return t.Feature(i), nil
		}
	}
	return features.Feature{}, geo.Fail(geo.NotFound, "sheettest.Find", geo.Say("features.none", geo.With("value", geo.Text(id))), nil)
}
