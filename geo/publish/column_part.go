package publish

import (
	"slices"

	"waterstrike/geo"
)

// part is a part of a record with what it belongs to.
type part[T any] struct {
	owner owner
	of    *T
}

// owner names what a part belongs to.
type owner struct {
	id, code string
	nth      int // of the bore's test that a reading belongs to, or of the test itself; from 1
}

// ofBore puts the columns of a part after those that tell its bore.
func ofBore[T any](columns ...column[T]) []column[part[T]] {
	return slices.Concat([]column[part[T]]{
		token("bore_id", "", func(p *part[T]) string { return p.owner.id }),
		text("bore_code", "", func(p *part[T]) string { return p.owner.code }),
	}, within(columns...))
}

// ofTest puts the number of the test between.
func ofTest[T any](columns ...column[T]) []column[part[T]] {
	return slices.Insert(ofBore(columns...), 2, tally("test", "", func(p *part[T]) int { return p.owner.nth }))
}

func within[T any](columns ...column[T]) []column[part[T]] {
	out := make([]column[part[T]], len(columns))
	for i, c := range columns {
		out[i] = column[part[T]]{c.name, c.kind, c.path, c.need, func(p *part[T]) value { return c.value(p.of) }}
	}
	return out
}

func layerColumns() []column[geo.Layer] {
	return []column[geo.Layer]{
		figure("top_m", "topM", func(l *geo.Layer) float64 { return l.TopM }),
		figure("base_m", "baseM", func(l *geo.Layer) float64 { return l.BaseM }),
		text("words", "words", func(l *geo.Layer) string { return l.Words }),
		token("class", "class", func(l *geo.Layer) string { return l.Class.String() }),
		token("grade", "grade", func(l *geo.Layer) string { return l.Grade.String() }),
		flag("clayey", "clayey", func(l *geo.Layer) bool { return l.Clayey }),
		figure("confidence", "confidence", func(l *geo.Layer) float64 { return l.Confidence }),
		text("colour", "colour", func(l *geo.Layer) string { return l.Colour }),
		text("hardness", "hardness", func(l *geo.Layer) string { return l.Hardness }),
		openFigure("minutes_per_m", "minutesPerM", func(l *geo.Layer) geo.Opt[float64] { return l.MinutesPerM }),
	}
}

func levelColumns() []column[geo.Level] {
	return []column[geo.Level]{
		token("state", "state", func(l *geo.Level) geo.LevelState { return l.State }),
		openFigure("depth_m", "depthM", func(l *geo.Level) geo.Opt[float64] { return l.DepthM }),
		openDate("read_on", "on", func(l *geo.Level) geo.Opt[geo.Date] { return l.On }),
		openFigure("reference_m", "referenceM", func(l *geo.Level) geo.Opt[float64] { return l.ReferenceM }),
		text("words", "words", func(l *geo.Level) string { return l.Words }),
	}
}

func strikeColumns() []column[geo.Strike] {
	return []column[geo.Strike]{
		figure("depth_m", "depthM", func(s *geo.Strike) float64 { return s.DepthM }),
		text("words", "words", func(s *geo.Strike) string { return s.Words }),
	}
}

func pipeColumns() []column[geo.Pipe] {
	return []column[geo.Pipe]{
		token("kind", "kind", func(p *geo.Pipe) geo.PipeKind { return p.Kind }),
		figure("top_m", "topM", func(p *geo.Pipe) float64 { return p.TopM }),
		figure("base_m", "baseM", func(p *geo.Pipe) float64 { return p.BaseM }),
		openFigure("diameter_mm", "diameterMm", func(p *geo.Pipe) geo.Opt[float64] { return p.DiameterMM }),
		openFigure("slot_mm", "slotMm", func(p *geo.Pipe) geo.Opt[float64] { return p.SlotMM }),
		text("material", "material", func(p *geo.Pipe) string { return p.Material }),
	}
}

func fillColumns() []column[geo.Fill] {
	return []column[geo.Fill]{
		token("kind", "kind", func(f *geo.Fill) geo.FillKind { return f.Kind }),
		figure("top_m", "topM", func(f *geo.Fill) float64 { return f.TopM }),
		figure("base_m", "baseM", func(f *geo.Fill) float64 { return f.BaseM }),
	}
}
