package level

import (
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
)

// Observation is what one bore says of the level, at its place in a metric plane.
type Observation struct {
	At     variogram.XY
	State  State
	DepthM float64  // metres below ground; not used when Flowing
	On     geo.Date // as much of it as is known
	Vague  bool     // from what depth the water comes is not known
	Land   Land     // the shape of the land there
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

// bound returns the depth that the low lies below at a dry hole: what was dry in a month
// when the water stands above its low is dry at the low too.
func (o Observation) bound(s Season) float64 {
	y, _ := s.toLow(o.DepthM, o.On, 0)
	return y
}
