package level

import (
	"math"
	"time"

	"waterstrike/advisor/variogram"
	"waterstrike/geo"
)

// State says what an observation states about the level.
type State uint8

// The states.
const (
	Rest    State = iota // the water stood at DepthM
	Flowing              // the water stood at or above ground
	DryTo                // no water was met down to DepthM
	Well                 // a well of DepthM that falls dry in the months Dry of a normal year
)

// Observation is what one bore says of the level, at its place in a metric plane.
type Observation struct {
	At     variogram.XY
	State  State
	DepthM float64  // metres below ground; not used when Flowing
	On     geo.Date // as much of it as is known
	Vague  bool     // from what depth the water comes is not known
	Dry    geo.MonthSet
	SumpM  float64 // how far above the bottom of a Well its water runs out
	Land   Land    // the shape of the land there
	read   *reading
}

// vagueVars are the variances that are tried for what a level of unknown origin carries
// beyond its reading, as shares of its depth: it may be of deeper water. The first stands
// where few readings are such. Common practice, no source.
var vagueVars = [...]float64{0.25, 0.01, 0.05, 0.12, 0.5, 1}

// readingSDM is the error of a level read with a tape in a hole, metres; a flowing bore
// is taken to stand flowingM above ground. Common practice, no source.
const (
	readingSDM = 0.15
	flowingM   = 0.3
)

// low returns the dry-season low that a Rest or Flowing observation states and the
// variance of that statement, metres and metres squared.
func (o Observation) low(s Season) (y, variance float64) {
	if o.State == Flowing {
		return -flowingM, flowingM * flowingM
	}
	return s.toLow(o.DepthM, o.On, readingSDM*readingSDM)
}

// onScale returns the low on the scale with its error variance.
func (o Observation) onScale(s scale, season Season) (z, variance float64) {
	y, v := o.low(season)
	z, variance = s.z(y), square(s.perMetre(y))*v
	if o.Vague {
		variance += s.vagueVar * square(s.perShare(y))
	}
	return z, variance
}

// between returns the depths that the low lies between at a bound, each infinite where it
// bounds nothing. What was dry in a month when the water stands above its low is dry at the
// low too; a well that holds water in a month has it above its bottom then.
func (o Observation) between(s Season) (shallowestM, deepestM float64) {
	if o.State == DryTo {
		y, _ := s.toLow(o.DepthM, o.On, 0)
		return y, math.Inf(1)
	}
	shallowestM, deepestM = math.Inf(-1), math.Inf(1)
	for month := time.January; month <= time.December; month++ {
		g := s.Rise[month-1]
		if o.Dry.Has(month) {
			shallowestM = max(shallowestM, s.lowUnder(o.DepthM-o.SumpM, g, 0))
		} else {
			deepestM = min(deepestM, s.lowUnder(o.DepthM, g, 0))
		}
	}
	return shallowestM, deepestM
}

// boundVar is the variance of a bound itself on the scale: of the season it was carried by,
// of the depth of a well as people say it, and of a word for a month.
func (o Observation) boundVar(s scale, season Season, atM float64) float64 {
	if o.State == DryTo {
		return 0
	}
	share := season.share(atM)
	return square(s.perMetre(atM)) * (wellSDM*wellSDM + square(share)*(shapeVar*square(season.RangeM)+square(season.RangeSDM)/4))
}

// wellSDM is the error of a well's depth and of its running dry, metres. Common practice,
// no source.
const wellSDM = 0.4

// IsBound reports that the observation bounds the low and does not state it.
//
//   - Source: [State].
func (o Observation) IsBound() bool { return o.State == DryTo || o.State == Well }
