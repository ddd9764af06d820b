package publish

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"waterstrike/geo/coord"
)

// appendGeometry appends a Geometry object (RFC 7946, section 3.1); null for none.
func appendGeometry(out []byte, g orb.Geometry) ([]byte, error) {
	if g == nil {
		return append(out, "null"...), nil
	}
	out = append(append(append(out, `{"type":"`...), g.GeoJSONType()...), `","coordinates":`...)
	out, err := appendCoordinates(out, g)
	return append(out, '}'), err
}

func appendCoordinates(out []byte, g orb.Geometry) ([]byte, error) {
	switch g := g.(type) {
	case orb.Point:
		return appendPosition(out, g)
	case orb.LineString:
		return appendList(out, g, appendPosition)
	case orb.MultiPolygon:
		return appendList(out, g, func(out []byte, p orb.Polygon) ([]byte, error) {
			return appendList(out, p, func(out []byte, r orb.Ring) ([]byte, error) {
				return appendList(out, r, appendPosition)
			})
		})
	}
	return out, fmt.Errorf("publish: no geometry %T", g)
}

func appendList[T any](out []byte, list []T, item func([]byte, T) ([]byte, error)) ([]byte, error) {
	out = append(out, '[')
	for i, v := range list {
		if i > 0 {
			out = append(out, ',')
		}
		var err error
		if out, err = item(out, v); err != nil {
			return out, err
		}
	}
	return append(out, ']'), nil
}

func appendPosition(out []byte, p orb.Point) ([]byte, error) {
	if !(coord.LonLat{Lon: p[0], Lat: p[1]}).Valid() {
		return out, fmt.Errorf("longitude %v, latitude %v: %w", p[0], p[1], coord.ErrPosition)
	}
	out = strconv.AppendFloat(append(out, '['), p[0]+0, 'f', -1, 64) // no -0
	out = strconv.AppendFloat(append(out, ','), p[1]+0, 'f', -1, 64)
	return append(out, ']'), nil
}

// line returns the line as it will be written, nil when it has no length.
func line(l orb.LineString) orb.Geometry {
	l = rounded(l)
	if len(l) < 2 { // RFC 7946, section 3.1.4
		return nil
	}
	return l
}

// areas returns the areas as they will be written, nil when they enclose nothing.
func areas(m orb.MultiPolygon) orb.Geometry {
	var out orb.MultiPolygon
	for _, p := range m {
		if p = area(p); p != nil {
			out = append(out, p)
		}
	}
	if out == nil {
		return nil
	}
	return out
}

// area turns the outline counter-clockwise and the holes clockwise (RFC 7946, section
// 3.1.6). Without an outline there is no area.
func area(p orb.Polygon) orb.Polygon {
	var out orb.Polygon
	turn := orb.CCW
	for _, r := range p {
		r = ring(r, turn)
		if r == nil && out == nil {
			return nil
		}
		if r != nil {
			out = append(out, r)
		}
		turn = orb.CW
	}
	return out
}

// ring closes a ring and turns it the way asked for; nil when it encloses nothing.
func ring(r orb.Ring, turn orb.Orientation) orb.Ring {
	r = orb.Ring(rounded(r))
	if len(r) > 0 && !r.Closed() {
		r = append(r, r[0])
	}
	if len(r) < 4 || planar.Area(r) == 0 {
		return nil
	}
	if r.Orientation() != turn {
		slices.Reverse(r)
	}
	return r
}

// rounded returns a copy in the decimals that are written, without repeated positions.
func rounded[L ~[]orb.Point](l L) orb.LineString {
	out := make(orb.LineString, len(l))
	for i, p := range l {
		out[i] = orb.Point{degrees(p[0]), degrees(p[1])}
	}
	return slices.Compact(out)
}

// degrees rounds to 7 decimals, 1 cm on the ground.
func degrees(v float64) float64 {
	const decimals = 1e7
	return math.Round(v*decimals)/decimals + 0 // no -0
}
