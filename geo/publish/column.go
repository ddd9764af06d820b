package publish

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// column is one column of a table of records, and one property of their features.
type column[T any] struct {
	name  string // with its unit
	value func(*T) value
}

// Bores have these three groups in CSV, in this order; in GeoJSON the position is the
// geometry.
func boreNames() []column[geo.Bore] {
	return []column[geo.Bore]{
		{"id", func(b *geo.Bore) value { return codeOf(b.ID) }},
		{"code", func(b *geo.Bore) value { return wordsOf(b.Code) }},
		{"name", func(b *geo.Bore) value { return wordsOf(b.Name) }},
		{"place", func(b *geo.Bore) value { return wordsOf(b.Place) }},
		{"village_id", func(b *geo.Bore) value { return codeOf(b.VillageID) }},
	}
}

func borePosition() []column[geo.Bore] {
	return []column[geo.Bore]{
		{"lon_deg", reading(func(r coord.Reading) value { return numberOf(degrees(r.Pos.Lon)) })},
		{"lat_deg", reading(func(r coord.Reading) value { return numberOf(degrees(r.Pos.Lat)) })},
	}
}

func boreFacts() []column[geo.Bore] {
	return []column[geo.Bore]{
		{"as_read", reading(func(r coord.Reading) value { return wordsOf(r.AsRead) })},
		{"crs", reading(func(r coord.Reading) value { return wordsOf(r.CRS) })},
		{"precision_m", reading(precision)},
		{"ground_m", elevation(func(e geo.Elevation) value { return numberOf(e.M) })},
		{"ground_datum", elevation(func(e geo.Elevation) value { return wordsOf(e.Datum) })},
		{"started", func(b *geo.Bore) value { return maybe(b.Started, dateOf) }},
		{"completed", func(b *geo.Bore) value { return maybe(b.Completed, dateOf) }},
		{"method", func(b *geo.Bore) value { return wordsOf(string(b.Method)) }},
		{"outcome", func(b *geo.Bore) value { return codeOf(b.Outcome) }},
		{"depth_m", func(b *geo.Bore) value { return maybe(b.DepthM, numberOf) }},
		{"refusal_m", func(b *geo.Bore) value { return maybe(b.RefusalM, numberOf) }},
		{"yield_lps", func(b *geo.Bore) value { return maybe(b.YieldLPS, numberOf) }},
		{"driller", func(b *geo.Bore) value { return wordsOf(b.Driller) }},
		{"remarks", func(b *geo.Bore) value { return wordsOf(b.Remarks) }},
		{"cost", cost(func(m geo.Money) value { return numberOf(m.Amount) })},
		{"currency", cost(func(m geo.Money) value { return wordsOf(m.Currency) })},
		{"source_file", func(b *geo.Bore) value { return wordsOf(b.Source.File) }},
		{"source_row", func(b *geo.Bore) value { return row(b.Source.Row) }},
		{"given_by", func(b *geo.Bore) value { return wordsOf(b.Source.By) }},
		{"licence", func(b *geo.Bore) value { return wordsOf(b.Source.Licence) }},
	}
}

func reading(of func(coord.Reading) value) func(*geo.Bore) value {
	return func(b *geo.Bore) value { return maybe(b.Position, of) }
}

func elevation(of func(geo.Elevation) value) func(*geo.Bore) value {
	return func(b *geo.Bore) value { return maybe(b.Ground, of) }
}

func cost(of func(geo.Money) value) func(*geo.Bore) value {
	return func(b *geo.Bore) value { return maybe(b.Cost, of) }
}

// precision is missing where it is 0: nobody knew it.
func precision(r coord.Reading) value {
	if r.PrecisionM == 0 {
		return value{}
	}
	return numberOf(r.PrecisionM)
}

// row is missing where it is 0: the record came from no file.
func row(n int) value {
	if n == 0 {
		return value{}
	}
	return countOf(n)
}

// degrees rounds to 7 decimals, 1 cm on the ground.
func degrees(v float64) float64 {
	const decimals = 1e7
	return math.Round(v*decimals)/decimals + 0 // no -0
}
