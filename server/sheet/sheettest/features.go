package sheettest

import (
	"context"

	"waterstrike/geo"
	"waterstrike/server/features"

	"github.com/paulmach/orb"
)

// Features is a source of one collection: 25 bores from west to east, a tenth of a degree
// apart, one in each month from January 2020.
type Features struct{}

// Collections lists the bores.
func (Features) Collections() []features.Collection {
	return []features.Collection{{Name: "bores", Title: "features.bores", Dated: true, Properties: []features.Property{{Name: "outcome", Type: "string"}, {Name: "depth_m", Type: "number"}}}}
}

func all() (out []features.Feature) {
	for i := range 25 {
		outcome := "producing"
		if i%5 == 0 {
			outcome = "dry"
		}
		out = append(out, features.Feature{
			ID: "b" + string(rune('a'+i)), At: orb.Point{float64(i) / 10, 0.5}, On: geo.Date{Year: 2020 + i/12, Month: 1 + i%12, Day: 5}, Values: []any{outcome, 10 + float64(i)/2},
		})
	}
	return out
}

// Extent is the box of the bores.
func (Features) Extent(context.Context, string) (orb.Bound, bool, error) {
	return orb.Bound{Min: orb.Point{0, 0.5}, Max: orb.Point{2.4, 0.5}}, true, nil
}

// Select reads them one by one.
func (Features) Select(_ context.Context, _ string, box *orb.Bound, keep func(*features.Feature) bool, from, limit int) (page []features.Feature, total int, err error) {
	for _, f := range all() {
		if !features.Within(box, f.At) || keep != nil && !keep(&f) {
			continue
		}
		if total >= from && len(page) < limit {
			page = append(page, f)
		}
		total++
	}
	return page, total, nil
}

// Find reads one.
func (Features) Find(_ context.Context, _, id string) (features.Feature, error) {
	for _, f := range all() {
		if f.ID == id {
			return f, nil
		}
	}
	return features.Feature{}, geo.Fail(geo.NotFound, "sheettest.Find", geo.Say("features.none", geo.With("value", geo.Text(id))), nil)
}
