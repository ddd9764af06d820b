package store

import (
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

var layers = table[geo.Layer]{
	name: "layer", parent: "bore_fid", keys: []string{"top_m"},
	fields: []field[geo.Layer]{
		number("top_m", func(l *geo.Layer) *float64 { return &l.TopM }),
		number("base_m", func(l *geo.Layer) *float64 { return &l.BaseM }),
		text("words", func(l *geo.Layer) *string { return &l.Words }),
		code("class", func(l *geo.Layer) *soil.Class { return &l.Class }, soil.ParseClass),
		code("grade", func(l *geo.Layer) *soil.Grade { return &l.Grade }, soil.ParseGrade),
		yesNo("clayey", func(l *geo.Layer) *bool { return &l.Clayey }),
		number("confidence", func(l *geo.Layer) *float64 { return &l.Confidence }),
		text("colour", func(l *geo.Layer) *string { return &l.Colour }),
		text("hardness", func(l *geo.Layer) *string { return &l.Hardness }),
		maybeNumber("minutes_per_m", func(l *geo.Layer) *geo.Opt[float64] { return &l.MinutesPerM }),
	},
}

var strikes = table[geo.Strike]{
	name: "strike", parent: "bore_fid", keys: []string{"depth_m"},
	fields: []field[geo.Strike]{
		number("depth_m", func(s *geo.Strike) *float64 { return &s.DepthM }),
		text("words", func(s *geo.Strike) *string { return &s.Words }),
	},
}

var levels = table[geo.Level]{
	name: "level", parent: "bore_fid", keys: []string{"read_on", "state"},
	fields: []field[geo.Level]{
		text("state", func(l *geo.Level) *geo.LevelState { return &l.State }),
		maybeNumber("depth_m", func(l *geo.Level) *geo.Opt[float64] { return &l.DepthM }),
		maybeDate("read_on", func(l *geo.Level) *geo.Opt[geo.Date] { return &l.On }),
		maybeNumber("reference_m", func(l *geo.Level) *geo.Opt[float64] { return &l.ReferenceM }),
		text("words", func(l *geo.Level) *string { return &l.Words }),
	},
}

var pipes = table[geo.Pipe]{
	name: "pipe", parent: "bore_fid", keys: []string{"kind", "top_m"},
	fields: []field[geo.Pipe]{
		text("kind", func(p *geo.Pipe) *geo.PipeKind { return &p.Kind }),
		number("top_m", func(p *geo.Pipe) *float64 { return &p.TopM }),
		number("base_m", func(p *geo.Pipe) *float64 { return &p.BaseM }),
		maybeNumber("diameter_mm", func(p *geo.Pipe) *geo.Opt[float64] { return &p.DiameterMM }),
		maybeNumber("slot_mm", func(p *geo.Pipe) *geo.Opt[float64] { return &p.SlotMM }),
		text("material", func(p *geo.Pipe) *string { return &p.Material }),
	},
}

var fills = table[geo.Fill]{
	name: "fill", parent: "bore_fid", keys: []string{"kind", "top_m"},
	fields: []field[geo.Fill]{
		text("kind", func(f *geo.Fill) *geo.FillKind { return &f.Kind }),
		number("top_m", func(f *geo.Fill) *float64 { return &f.TopM }),
		number("base_m", func(f *geo.Fill) *float64 { return &f.BaseM }),
	},
}
