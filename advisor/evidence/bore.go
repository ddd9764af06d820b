package evidence

import (
	"slices"

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
	Deep      bool    // it has a level, but of water from below ShallowM: left out of Levels
	Tested    *Tested // nil where nobody tested it
	YieldLPS  geo.Opt[float64]
	Screen    geo.Opt[Span] // of its first screen
	Water     []Found       // what its samples say, an analyte once; nil without samples that can be judged
}

// Span is an interval of depth.
type Span struct{ TopM, BaseM float32 }

// screenOf is where the first screen of a bore stands.
func screenOf(b geo.Bore) (out geo.Opt[Span]) {
	for _, p := range b.Pipes {
		if p.Kind == geo.Screen {
			return geo.Some(Span{float32(p.TopM), float32(p.BaseM)})
		}
	}
	return out
}

// Found is what the samples of one bore say of one analyte.
type Found struct {
	Analyte string
	Limit   geo.LimitKind // that it was held against: health where there is one
	Over    bool          // some result was out of the limit
}

// Tested is how a bore was pumped or bailed, and its pipes.
type Tested struct {
	Tests []geo.PumpTest // without remarks
	Pipes []geo.Pipe     // screens and casing, without their material
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
	DepthM float32 // not used when flowing
	Year   int16   // of the reading, as much of its date as is known
	Month  uint8
	Day    uint8
	Any    bool // it may be of deeper water than the first
}

// On is the date of a statement.
func (l Level) On() geo.Date {
	return geo.Date{Year: int(l.Year), Month: int(l.Month), Day: int(l.Day)}
}

// ShallowM is the depth of the deepest water that says how high the first water stands:
// 40 m, the reach of hand tools, and half as much again. Water from deeper layers may
// rest anywhere, above ground included.
//
// Source: the reach, Kane et al. (2013); the half as much again is common practice, no
// source.
const ShallowM = 60

// HasLayers reports that a bore has known layers.
func HasLayers(b *Bore) bool {
	return slices.ContainsFunc(b.Layers, func(l Layer) bool { return l.Class != soil.Unknown })
}

// HasLevel reports that a bore states a level.
func HasLevel(b *Bore) bool { return len(b.Levels) > 0 }

// levelOf chooses one statement a bore: the one nearest to the dry-season low cannot be
// told without the season, so the last reading is taken. A bore that never reached water
// states that it was dry to its depth.
//
// Water from below [ShallowM] may rest higher than the first water lies: where it rests
// high it is deep and states nothing. Where it rests low it is kept with a doubt, for to
// leave it out would make a place without shallow water look better than it is. Water that
// flows is held down by tight ground, and where nobody wrote how deep it comes from it is
// taken for deep too.
func levelOf(b geo.Bore) (l Level, deep, ok bool) {
	if l, ok = restOf(b); !ok {
		return Level{}, false, false
	}
	from, known := waterFrom(b).Get()
	l.Any = !known
	flows := l.State == geo.LevelFlowing
	switch {
	case !known:
		deep = flows
	case from > ShallowM && l.State != geo.LevelDryTo:
		deep = flows || l.DepthM < ShallowM/2
		l.Any = true
	}
	if deep {
		return Level{}, true, false
	}
	return l, false, true
}

func restOf(b geo.Bore) (Level, bool) {
	for _, l := range slices.Backward(b.Levels) {
		depth, known := l.DepthM.Get()
		switch {
		case l.State == geo.LevelFlowing, known && depth < 0:
			return Level{State: geo.LevelFlowing}.on(l.On, b.Completed), true
		case known:
			return Level{State: l.State, DepthM: float32(depth)}.on(l.On, b.Completed), true
		}
	}
	if depth, known := b.DepthM.Get(); known && b.Outcome == geo.Dry {
		return Level{State: geo.LevelDryTo, DepthM: float32(depth)}.on(b.Completed, b.Completed), true
	}
	return Level{}, false
}

// waterFrom returns the depth from which a bore takes its water: of its first screen, of
// the first strike, or of the whole hole.
func waterFrom(b geo.Bore) geo.Opt[float64] {
	first := geo.Opt[float64]{}
	for _, p := range b.Pipes {
		if p.Kind == geo.Screen && p.TopM < first.Or(p.TopM+1) {
			first = geo.Some(p.TopM)
		}
	}
	switch {
	case first.Known():
		return first
	case len(b.Strikes) > 0:
		return geo.Some(b.Strikes[0].DepthM)
	}
	return b.DepthM
}

// on dates a statement. A reading without a month is taken to be of the day of completion,
// unless it is of another year.
func (l Level) on(read, completed geo.Opt[geo.Date]) Level {
	end := completed.Or(geo.Date{})
	d := read.Or(end)
	if d.Month == 0 && d.Year == end.Year {
		d = end
	}
	l.Year, l.Month, l.Day = int16(d.Year), uint8(d.Month), uint8(d.Day)
	return l
}

// testedOf keeps the tests of a bore that has a screen; nil where they say nothing of the
// ground behind it.
func testedOf(b geo.Bore) *Tested {
	out := &Tested{Tests: slices.Clone(b.Tests)}
	screened := false
	for _, p := range b.Pipes {
		if p.Kind == geo.Screen || p.Kind == geo.Casing {
			screened = screened || p.Kind == geo.Screen
			out.Pipes = append(out.Pipes, geo.Pipe{Kind: p.Kind, TopM: p.TopM, BaseM: p.BaseM, DiameterMM: p.DiameterMM})
		}
	}
	if len(b.Tests) == 0 || !screened {
		return nil
	}
	for i := range out.Tests {
		out.Tests[i].Remarks = ""
		out.Tests[i].Readings = slices.Clone(out.Tests[i].Readings)
	}
	return out
}
