package store

import (
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// reading is how a position was written and understood.
func reading() []field[coord.Reading] {
	return []field[coord.Reading]{
		position(),
		text("as_read", func(r *coord.Reading) *string { return &r.AsRead }),
		text("crs", func(r *coord.Reading) *string { return &r.CRS }),
		text("operation", func(r *coord.Reading) *string { return &r.Operation }),
		number("precision_m", func(r *coord.Reading) *float64 { return &r.PrecisionM }),
	}
}

// provenance is where a record came from.
func provenance() []field[geo.Provenance] {
	return []field[geo.Provenance]{
		text("batch", func(p *geo.Provenance) *string { return &p.Batch }),
		text("source_file", func(p *geo.Provenance) *string { return &p.File }),
		count("source_row", func(p *geo.Provenance) *int { return &p.Row }),
		text("given_by", func(p *geo.Provenance) *string { return &p.By }),
		text("licence", func(p *geo.Provenance) *string { return &p.Licence }),
		wordMap("field_sources", func(p *geo.Provenance) *map[string]string { return &p.Fields }),
	}
}
