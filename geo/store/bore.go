package store

import (
	"context"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// bores is the table of bores; its parts stand in eight more.
var bores = record[geo.Bore]{
	table: table[geo.Bore]{
		name: "bore",
		fields: slices.Concat(
			[]field[geo.Bore]{
				text("id", func(b *geo.Bore) *geo.BoreID { return &b.ID }),
				text("code", func(b *geo.Bore) *string { return &b.Code }),
				text("name", func(b *geo.Bore) *string { return &b.Name }),
				text("place", func(b *geo.Bore) *string { return &b.Place }),
				text("village_id", func(b *geo.Bore) *geo.VillageID { return &b.VillageID }),
			},
			insideMaybe(func(b *geo.Bore) *geo.Opt[coord.Reading] { return &b.Position }, reading()...),
			insideMaybe(func(b *geo.Bore) *geo.Opt[geo.Elevation] { return &b.Ground },
				number("ground_m", func(e *geo.Elevation) *float64 { return &e.M }),
				text("ground_datum", func(e *geo.Elevation) *string { return &e.Datum }),
				text("ground_source", func(e *geo.Elevation) *string { return &e.Source }),
			),
			[]field[geo.Bore]{
				maybeDate("started", func(b *geo.Bore) *geo.Opt[geo.Date] { return &b.Started }),
				maybeDate("completed", func(b *geo.Bore) *geo.Opt[geo.Date] { return &b.Completed }),
				text("method", func(b *geo.Bore) *geo.Method { return &b.Method }),
				text("outcome", func(b *geo.Bore) *geo.Outcome { return &b.Outcome }),
				maybeNumber("depth_m", func(b *geo.Bore) *geo.Opt[float64] { return &b.DepthM }),
				maybeNumber("refusal_m", func(b *geo.Bore) *geo.Opt[float64] { return &b.RefusalM }),
				maybeNumber("yield_lps", func(b *geo.Bore) *geo.Opt[float64] { return &b.YieldLPS }),
				text("driller", func(b *geo.Bore) *string { return &b.Driller }),
				text("remarks", func(b *geo.Bore) *string { return &b.Remarks }),
			},
			insideMaybe(func(b *geo.Bore) *geo.Opt[geo.Money] { return &b.Cost },
				number("cost", func(m *geo.Money) *float64 { return &m.Amount }),
				text("currency", func(m *geo.Money) *string { return &m.Currency }),
			),
			inside(func(b *geo.Bore) *geo.Provenance { return &b.Source }, provenance()...),
		),
		parts: []part[geo.Bore]{
			&parts[geo.Bore, geo.Layer]{layers, func(b *geo.Bore) *[]geo.Layer { return &b.Layers }},
			&parts[geo.Bore, geo.Strike]{strikes, func(b *geo.Bore) *[]geo.Strike { return &b.Strikes }},
			&parts[geo.Bore, geo.Level]{levels, func(b *geo.Bore) *[]geo.Level { return &b.Levels }},
			&parts[geo.Bore, geo.Pipe]{pipes, func(b *geo.Bore) *[]geo.Pipe { return &b.Pipes }},
			&parts[geo.Bore, geo.Fill]{fills, func(b *geo.Bore) *[]geo.Fill { return &b.Fills }},
			&parts[geo.Bore, geo.PumpTest]{tests, func(b *geo.Bore) *[]geo.PumpTest { return &b.Tests }},
			&parts[geo.Bore, geo.Sample]{samples, func(b *geo.Bore) *[]geo.Sample { return &b.Samples }},
		},
	},
	source: func(b *geo.Bore) *geo.Provenance { return &b.Source },
	id:     func(b *geo.Bore) string { return string(b.ID) },
	label:  func(b *geo.Bore) string { return b.Label() },
	check:  geo.NewBore,
}

// Bores calls fn with every bore and all its parts, in the order of their ids, as they
// stood at one moment. An error of fn ends the walk and is returned.
func (b *Base) Bores(ctx context.Context, fn func(geo.Bore) error) error {
	return each(ctx, b, bores, everything, fn)
}

// BoresByID is [Base.Bores] for some ids; those that are not there are left out.
func (b *Base) BoresByID(ctx context.Context, ids []geo.BoreID, fn func(geo.Bore) error) error {
	return each(ctx, b, bores, these(ids), fn)
}

// Bore returns one bore with its parts; [geo.NotFound] when it is hidden or was never here.
func (b *Base) Bore(ctx context.Context, id geo.BoreID) (geo.Bore, error) {
	return one(ctx, b, bores, string(id))
}

// SaveBore adds a bore or replaces it whole. It returns once the change is on the disk;
// a bore that is the same already writes nothing. [geo.Invalid] names what is wrong.
func (b *Base) SaveBore(ctx context.Context, bore geo.Bore, why Why) error {
	return saveOne(ctx, b, bores, bore, why)
}
