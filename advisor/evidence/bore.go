package evidence

import (
	"slices"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Bore is what an answer reads of a bore: the record without its words, in little memory.
// Snapshots share it: it is read, never changed.
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
	Levels    []Level // at most one: what the bore states of the level
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

// HasLayers reports that a bore has known layers.
func HasLayers(b *Bore) bool {
	return slices.ContainsFunc(b.Layers, func(l Layer) bool { return l.Class != soil.Unknown })
}

// HasLevel reports that a bore states a level.
func HasLevel(b *Bore) bool { return len(b.Levels) > 0 }

// levelOf chooses one statement a bore: the one nearest to the dry-season low cannot be
// told without the season, so the last reading is taken. A bore that never reached water
// states that it was dry to its depth.
func levelOf(b geo.Bore) (l Level, ok bool) {
	for _, l := range slices.Backward(b.Levels) {
		depth, known := l.DepthM.Get()
		switch {
		case l.State == geo.LevelFlowing, known && depth < 0:
			return Level{State: geo.LevelFlowing, Month: monthOf(l.On, b.Completed)}, true
		case known:
			return Level{State: l.State, DepthM: float32(depth), Month: monthOf(l.On, b.Completed)}, true
		}
	}
	if depth, known := b.DepthM.Get(); known && b.Outcome == geo.Dry {
		return Level{State: geo.LevelDryTo, DepthM: float32(depth), Month: monthOf(b.Completed, b.Completed)}, true
	}
	return Level{}, false
}

// monthOf returns the month of a reading, 0 when it is not known. A reading without a
// month is taken to be of the day of completion, unless it is of another year.
func monthOf(on, completed geo.Opt[geo.Date]) time.Month {
	end := completed.Or(geo.Date{})
	d := on.Or(end)
	if d.Month == 0 && d.Year == end.Year {
		d = end
	}
	return time.Month(d.Month)
}
