package publish

import (
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// The two columns of a table that are the geometry of a feature.
const (
	lonColumn = "lon_deg"
	latColumn = "lat_deg"
)

// boreColumns are all but the parts.
func boreColumns() []column[geo.Bore] {
	return slices.Concat(
		[]column[geo.Bore]{
			token("id", "id", func(b *geo.Bore) geo.BoreID { return b.ID }),
			text("code", "code", func(b *geo.Bore) string { return b.Code }),
			text("name", "name", func(b *geo.Bore) string { return b.Name }),
			text("place", "place", func(b *geo.Bore) string { return b.Place }),
			token("village_id", "villageId", func(b *geo.Bore) geo.VillageID { return b.VillageID }),
		},
		insideOpen("position", func(b *geo.Bore) geo.Opt[coord.Reading] { return b.Position }, readingColumns()...),
		insideOpen("ground", func(b *geo.Bore) geo.Opt[geo.Elevation] { return b.Ground },
			figure("ground_m", "m", func(e *geo.Elevation) float64 { return e.M }),
			text("ground_datum", "datum", func(e *geo.Elevation) string { return e.Datum }),
			text("ground_source", "source", func(e *geo.Elevation) string { return e.Source }),
		),
		boreFacts(),
		insideOpen("cost", func(b *geo.Bore) geo.Opt[geo.Money] { return b.Cost },
			figure("cost", "amount", func(m *geo.Money) float64 { return m.Amount }),
			text("currency", "currency", func(m *geo.Money) string { return m.Currency }),
		),
		inside("source", func(b *geo.Bore) geo.Provenance { return b.Source }, sourceColumns()...),
	)
}

func boreFacts() []column[geo.Bore] {
	return []column[geo.Bore]{
		openDate("started", "started", func(b *geo.Bore) geo.Opt[geo.Date] { return b.Started }),
		openDate("completed", "completed", func(b *geo.Bore) geo.Opt[geo.Date] { return b.Completed }),
		text("method", "method", func(b *geo.Bore) geo.Method { return b.Method }),
		token("outcome", "outcome", func(b *geo.Bore) geo.Outcome { return b.Outcome }),
		openFigure("depth_m", "depthM", func(b *geo.Bore) geo.Opt[float64] { return b.DepthM }),
		openFigure("refusal_m", "refusalM", func(b *geo.Bore) geo.Opt[float64] { return b.RefusalM }),
		openFigure("yield_lps", "yieldLps", func(b *geo.Bore) geo.Opt[float64] { return b.YieldLPS }),
		text("driller", "driller", func(b *geo.Bore) string { return b.Driller }),
		text("remarks", "remarks", func(b *geo.Bore) string { return b.Remarks }),
	}
}

// boreParts are properties: a feature holds the parts of its bore, a table has a row for
// each in a file of its own.
func boreParts() []column[geo.Bore] {
	return []column[geo.Bore]{
		list("layers", func(b *geo.Bore) []geo.Layer { return b.Layers }),
		list("strikes", func(b *geo.Bore) []geo.Strike { return b.Strikes }),
		list("levels", func(b *geo.Bore) []geo.Level { return b.Levels }),
		list("pipes", func(b *geo.Bore) []geo.Pipe { return b.Pipes }),
		list("fills", func(b *geo.Bore) []geo.Fill { return b.Fills }),
		list("tests", func(b *geo.Bore) []geo.PumpTest { return b.Tests }),
		list("samples", func(b *geo.Bore) []geo.Sample { return b.Samples }),
	}
}

func readingColumns() []column[coord.Reading] {
	return []column[coord.Reading]{
		figure(lonColumn, "pos.lon", func(r *coord.Reading) float64 { return r.Pos.Lon }),
		figure(latColumn, "pos.lat", func(r *coord.Reading) float64 { return r.Pos.Lat }),
		text("as_read", "asRead", func(r *coord.Reading) string { return r.AsRead }),
		text("crs", "crs", func(r *coord.Reading) string { return r.CRS }),
		text("operation", "operation", func(r *coord.Reading) string { return r.Operation }),
		tally("precision_m", "precisionM", func(r *coord.Reading) float64 { return r.PrecisionM }),
	}
}

// sourceColumns are where a record came from, but for the batch: an import gives its own.
func sourceColumns() []column[geo.Provenance] {
	return []column[geo.Provenance]{
		text("source_file", "file", func(p *geo.Provenance) string { return p.File }),
		tally("source_row", "row", func(p *geo.Provenance) int { return p.Row }),
		text("given_by", "by", func(p *geo.Provenance) string { return p.By }),
		text("licence", "licence", func(p *geo.Provenance) string { return p.Licence }),
		{"field_sources", raw, "fields", never, fieldSources},
	}
}
