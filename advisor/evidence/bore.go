package evidence

import (
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Bore is what an answer reads of a bore: the record without its words, in little memory.
type Bore struct {
	ID        geo.BoreID
	Label     string
	Pos       coord.LonLat
	Method    geo.Method
	Outcome   geo.Outcome
	Completed geo.Date // zero when not known
	DepthM    geo.Opt[float64]
	RefusalM  geo.Opt[float64]
	Layers    []Layer
	Levels    []Level
}

// Layer is one described interval.
type Layer struct {
	TopM, BaseM float32
	Class       soil.Class
	Grade       soil.Grade
	Clayey      bool
}

// Level is one statement about the water at rest.
type Level struct {
	State  geo.LevelState
	DepthM float32    // not used when flowing
	Month  time.Month // 0 when not known
}

// read turns a record into evidence; ok is false when it has no position.
func read(b geo.Bore) (out Bore, ok bool) {
	position, ok := b.Position.Get()
	if !ok {
		return Bore{}, false
	}
	out = Bore{
		ID: b.ID, Label: b.Label(), Pos: position.Pos,
		Method: b.Method, Outcome: b.Outcome, Completed: b.Completed.Or(geo.Date{}),
		DepthM: b.DepthM, RefusalM: b.RefusalM,
		Levels: readLevels(b),
	}
	for _, l := range b.Layers {
		out.Layers = append(out.Layers, Layer{float32(l.TopM), float32(l.BaseM), l.Class, l.Grade, l.Clayey})
	}
	return out, true
}

// readLevels keeps one statement a bore: the one nearest to the dry-season low cannot be
// told without the season, so the last reading is taken. A bore that never reached water
// states that it was dry to its depth.
func readLevels(b geo.Bore) []Level {
	for i := len(b.Levels) - 1; i >= 0; i-- {
		l := b.Levels[i]
		month := monthOf(l.On, b.Completed)
		depth, known := l.DepthM.Get()
		switch {
		case l.State == geo.LevelFlowing, known && depth < 0:
			return []Level{{State: geo.LevelFlowing, Month: month}}
		case known:
			return []Level{{State: l.State, DepthM: float32(depth), Month: month}}
		}
	}
	if depth, known := b.DepthM.Get(); known && b.Outcome == geo.Dry {
		return []Level{{State: geo.LevelDryTo, DepthM: float32(depth), Month: monthOf(b.Completed)}}
	}
	return nil
}

func monthOf(dates ...geo.Opt[geo.Date]) time.Month {
	for _, date := range dates {
		if d, ok := date.Get(); ok && d.Month != 0 {
			return time.Month(d.Month)
		}
	}
	return 0
}
