package publish

import "waterstrike/geo"

// part is a layer or level with the bore that it belongs to.
type part[T any] struct {
	bore *geo.Bore
	of   *T
}

func layerColumns() []column[part[geo.Layer]] {
	return []column[part[geo.Layer]]{
		{"bore_id", func(p *part[geo.Layer]) value { return codeOf(p.bore.ID) }},
		{"bore_code", func(p *part[geo.Layer]) value { return wordsOf(p.bore.Code) }},
		{"top_m", func(p *part[geo.Layer]) value { return numberOf(p.of.TopM) }},
		{"base_m", func(p *part[geo.Layer]) value { return numberOf(p.of.BaseM) }},
		{"words", func(p *part[geo.Layer]) value { return wordsOf(p.of.Words) }},
		{"class", func(p *part[geo.Layer]) value { return codeOf(p.of.Class.String()) }},
		{"grade", func(p *part[geo.Layer]) value { return codeOf(p.of.Grade.String()) }},
		{"clayey", func(p *part[geo.Layer]) value { return boolOf(p.of.Clayey) }},
		{"confidence", func(p *part[geo.Layer]) value { return numberOf(p.of.Confidence) }},
		{"minutes_per_m", func(p *part[geo.Layer]) value { return maybe(p.of.MinutesPerM, numberOf) }},
	}
}

func levelColumns() []column[part[geo.Level]] {
	return []column[part[geo.Level]]{
		{"bore_id", func(p *part[geo.Level]) value { return codeOf(p.bore.ID) }},
		{"bore_code", func(p *part[geo.Level]) value { return wordsOf(p.bore.Code) }},
		{"state", func(p *part[geo.Level]) value { return codeOf(p.of.State) }},
		{"depth_m", func(p *part[geo.Level]) value { return maybe(p.of.DepthM, numberOf) }},
		{"read_on", func(p *part[geo.Level]) value { return maybe(p.of.On, dateOf) }},
		{"reference_m", func(p *part[geo.Level]) value { return maybe(p.of.ReferenceM, numberOf) }},
		{"words", func(p *part[geo.Level]) value { return wordsOf(p.of.Words) }},
	}
}
