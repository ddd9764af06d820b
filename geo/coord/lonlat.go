package coord

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// ErrPosition reports a position that is not finite or lies outside the
// domain of the operation.
var ErrPosition = errors.New("coord: position outside the domain")

// LonLat is a position in degrees on WGS 84: Lon in [-180, 180], east
// positive; Lat in [-90, 90], north positive.
type LonLat struct {
	Lon float64 `json:"lon"`
	Lat float64 `json:"lat"`
}

// NewLonLat checks a longitude and a latitude, both in degrees, in that order.
// It returns [ErrPosition] when one is not finite or out of range.
func NewLonLat(lon, lat float64) (LonLat, error) {
	p := LonLat{lon, lat}
	if !p.Valid() {
		return LonLat{}, fmt.Errorf("%w: longitude %v, latitude %v (is the order right?)", ErrPosition, lon, lat)
	}
	return p, nil
}

// Valid reports whether both coordinates are finite and in range.
func (p LonLat) Valid() bool {
	return math.Abs(p.Lon) <= 180 && math.Abs(p.Lat) <= 90
}

// Point returns the position as an orb.Point, longitude first.
func (p LonLat) Point() orb.Point { return orb.Point{p.Lon, p.Lat} }

// XY is a position in metres on a [Plane]: X east and Y north of its origin.
type XY struct{ X, Y float64 }
