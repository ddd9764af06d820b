package demoland

import (
	"math"

	"waterstrike/geo/coord"
)

// Terrain is the shape of the land at one point.
type Terrain struct {
	GroundM        float64 // elevation above the sea
	AboveDrainageM float64 // height above the stream or shore it drains to
	ToDrainageM    float64 // distance to it
	Slope          float64 // m/m, over some 50 m
}

// slopeM is half the span over which slope is taken.
const slopeM = 25.0

// Terrain returns the shape of the land at p, in metres; the sea floor has a negative
// elevation.
func (l *Land) Terrain(p coord.LonLat) Terrain {
	q := l.frame(p)
	r := l.reliefAt(q)
	ground := func(du, dv float64) float64 { return l.reliefAt(pt{q.u + du, q.v + dv}).groundM }
	du := (ground(slopeM, 0) - ground(-slopeM, 0)) / (2 * slopeM)
	dv := (ground(0, slopeM) - ground(0, -slopeM)) / (2 * slopeM)
	return Terrain{r.groundM, r.aboveM, r.toM, math.Hypot(du, dv)}
}

// Elevation returns the height of the ground at p above the sea, metres.
func (l *Land) Elevation(p coord.LonLat) float64 { return l.reliefAt(l.frame(p)).groundM }
