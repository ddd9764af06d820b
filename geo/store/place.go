package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/google/uuid"
	"github.com/paulmach/orb"
)

var villages = record[geo.Village]{
	table: table[geo.Village]{
		name: "village",
		fields: slices.Concat(
			[]field[geo.Village]{
				text("id", func(v *geo.Village) *geo.VillageID { return &v.ID }),
				text("name", func(v *geo.Village) *string { return &v.Name }),
			},
			inside(func(v *geo.Village) *coord.Reading { return &v.Position }, reading()...),
			[]field[geo.Village]{maybeCount("people", func(v *geo.Village) *geo.Opt[int] { return &v.People })},
			inside(func(v *geo.Village) *geo.Provenance { return &v.Source }, provenance()...),
		),
	},
	source: func(v *geo.Village) *geo.Provenance { return &v.Source },
	id:     func(v *geo.Village) string { return string(v.ID) },
	label:  func(v *geo.Village) string { return cmp.Or(v.Name, string(v.ID)) },
	check:  geo.NewVillage,
}

var boundaries = record[geo.Boundary]{
	table: table[geo.Boundary]{
		name: "boundary",
		fields: slices.Concat(
			[]field[geo.Boundary]{
				text("id", func(b *geo.Boundary) *geo.PlaceID { return &b.ID }),
				text("name", func(b *geo.Boundary) *string { return &b.Name }),
				text("kind", func(b *geo.Boundary) *string { return &b.Kind }),
				area(func(b *geo.Boundary) *orb.MultiPolygon { return &b.Shape }),
			},
			inside(func(b *geo.Boundary) *geo.Provenance { return &b.Source }, provenance()...),
		),
	},
	source: func(b *geo.Boundary) *geo.Provenance { return &b.Source },
	id:     func(b *geo.Boundary) string { return string(b.ID) },
	label:  func(b *geo.Boundary) string { return cmp.Or(b.Name, string(b.ID)) },
	check:  func(b geo.Boundary) (geo.Boundary, error) { return b, checkID("boundary", string(b.ID)) },
}

var rivers = record[geo.River]{
	table: table[geo.River]{
		name: "river",
		fields: slices.Concat(
			[]field[geo.River]{
				text("id", func(r *geo.River) *geo.PlaceID { return &r.ID }),
				text("name", func(r *geo.River) *string { return &r.Name }),
				maybeYesNo("perennial", func(r *geo.River) *geo.Opt[bool] { return &r.Perennial }),
				line(func(r *geo.River) *orb.LineString { return &r.Line }),
			},
			inside(func(r *geo.River) *geo.Provenance { return &r.Source }, provenance()...),
		),
	},
	source: func(r *geo.River) *geo.Provenance { return &r.Source },
	id:     func(r *geo.River) string { return string(r.ID) },
	label:  func(r *geo.River) string { return cmp.Or(r.Name, string(r.ID)) },
	check:  func(r geo.River) (geo.River, error) { return r, checkID("river", string(r.ID)) },
}

// checkID refuses every form of a UUID but the usual one: two forms of one id would be
// two records.
func checkID(what, id string) error {
	if err := uuid.Validate(id); err != nil || len(id) != 36 {
		return geo.Fail(geo.Invalid, "store.write", geo.Message{},
			fmt.Errorf("%s id %q is not a UUID of 36 characters", what, id))
	}
	return nil
}

// Villages calls fn with every village, in the order of their ids.
func (b *Base) Villages(ctx context.Context, fn func(geo.Village) error) error {
	return each(ctx, b, villages, everything, fn)
}

// Village returns one village; [geo.NotFound] when it is hidden or was never here.
func (b *Base) Village(ctx context.Context, id geo.VillageID) (geo.Village, error) {
	return one(ctx, b, villages, string(id))
}

// SaveVillage adds a village or replaces it whole, as [Base.SaveBore] does.
func (b *Base) SaveVillage(ctx context.Context, v geo.Village, why Why) error {
	return saveOne(ctx, b, villages, v, why)
}

// Boundaries calls fn with every boundary, in the order of their ids.
func (b *Base) Boundaries(ctx context.Context, fn func(geo.Boundary) error) error {
	return each(ctx, b, boundaries, everything, fn)
}

// SaveBoundary adds a boundary or replaces it whole, as [Base.SaveBore] does.
func (b *Base) SaveBoundary(ctx context.Context, v geo.Boundary, why Why) error {
	return saveOne(ctx, b, boundaries, v, why)
}

// Rivers calls fn with every river, in the order of their ids.
func (b *Base) Rivers(ctx context.Context, fn func(geo.River) error) error {
	return each(ctx, b, rivers, everything, fn)
}

// SaveRiver adds a river or replaces it whole, as [Base.SaveBore] does.
func (b *Base) SaveRiver(ctx context.Context, v geo.River, why Why) error {
	return saveOne(ctx, b, rivers, v, why)
}
