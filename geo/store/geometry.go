package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

// The GeoPackage geometry header (OGC 12-128 clause 2.1.3): "GP", version 0, flags,
// srs_id, envelope.
const (
	srsWGS84       = 4326
	flagLittle     = 0x01 // byte order of the header
	flagEnvelopeXY = 0x02 // envelope code 1: min x, max x, min y, max y
	flagEmpty      = 0x10
	flagExtended   = 0x20
)

// envelopeSizes gives the bytes of each envelope code.
var envelopeSizes = [8]int{0, 32, 48, 48, 64, -1, -1, -1}

var (
	errGeometry = errors.New("not a GeoPackage geometry in WGS 84")
	errMissing  = errors.New("an empty geometry where a position belongs")
)

// encodeGeometry writes a geometry. Lines and areas carry their envelope; points would
// only repeat themselves.
func encodeGeometry(g orb.Geometry, empty bool) ([]byte, error) {
	out := []byte{'G', 'P', 0, flagLittle, 0, 0, 0, 0}
	binary.LittleEndian.PutUint32(out[4:], srsWGS84)
	_, point := g.(orb.Point)
	switch {
	case empty:
		out[3] |= flagEmpty
	case !point:
		out[3] |= flagEnvelopeXY
		b := g.Bound()
		for _, v := range [...]float64{b.Min[0], b.Max[0], b.Min[1], b.Max[1]} {
			out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
		}
	}
	body, err := wkb.Marshal(g, binary.LittleEndian)
	return append(out, body...), err
}

// decodeGeometry reads a geometry in WGS 84 that any program may have written; nil is
// empty.
func decodeGeometry(cell any) (orb.Geometry, error) {
	g, system, err := decodeShape(cell)
	if err == nil && system != srsWGS84 {
		return nil, errGeometry
	}
	return g, err
}

// decodeShape reads a geometry in whatever system it says it is in.
func decodeShape(cell any) (g orb.Geometry, system uint32, err error) {
	data, ok := cell.([]byte)
	if !ok || len(data) < 8 || data[0] != 'G' || data[1] != 'P' || data[2] != 0 || data[3]&flagExtended != 0 {
		return nil, 0, errGeometry
	}
	var order binary.ByteOrder = binary.BigEndian
	if data[3]&flagLittle != 0 {
		order = binary.LittleEndian
	}
	size := envelopeSizes[data[3]>>1&7]
	if size < 0 || len(data) < 8+size {
		return nil, 0, errGeometry
	}
	system = order.Uint32(data[4:])
	if data[3]&flagEmpty != 0 {
		return nil, system, nil
	}
	g, err = wkb.Unmarshal(data[8+size:])
	return g, system, err
}

// position is the geometry column of a point; an empty point is missing.
func position() field[coord.Reading] {
	return field[coord.Reading]{
		"geom",
		func(r *coord.Reading) (any, error) {
			if !r.Pos.Valid() {
				return nil, fmt.Errorf("%w: %v", coord.ErrPosition, r.Pos)
			}
			return encodeGeometry(r.Pos.Point(), false)
		},
		func(r *coord.Reading, cell any) error {
			g, err := decodeGeometry(cell)
			if err != nil {
				return err
			}
			p, ok := g.(orb.Point)
			if g == nil || (ok && math.IsNaN(p[0]) && math.IsNaN(p[1])) {
				return errMissing
			}
			if !ok {
				return errGeometry
			}
			r.Pos, err = coord.NewLonLat(p[0], p[1])
			return err
		},
	}
}

// area is the geometry column of a boundary.
func area[T any](at func(*T) *orb.MultiPolygon) field[T] {
	return field[T]{
		"geom",
		func(r *T) (any, error) {
			// An empty shape that is nil would have no WKB at all.
			return shapeOf(append(orb.MultiPolygon{}, *at(r)...), len(*at(r)) == 0)
		},
		func(r *T, cell any) error {
			g, err := decodeGeometry(cell)
			switch g := g.(type) {
			case nil:
			case orb.Polygon:
				*at(r) = orb.MultiPolygon{g}
			case orb.MultiPolygon:
				*at(r) = g
			default:
				return errGeometry
			}
			return err
		},
	}
}

// line is the geometry column of a river.
func line[T any](at func(*T) *orb.LineString) field[T] {
	return field[T]{
		"geom",
		func(r *T) (any, error) {
			return shapeOf(append(orb.LineString{}, *at(r)...), len(*at(r)) == 0)
		},
		func(r *T, cell any) error {
			g, err := decodeGeometry(cell)
			if g == nil {
				return err
			}
			l, ok := g.(orb.LineString)
			if !ok {
				return errGeometry
			}
			*at(r) = l
			return nil
		},
	}
}

// shapeOf encodes a line or an area after a look at every corner.
func shapeOf(g orb.Geometry, empty bool) ([]byte, error) {
	for _, p := range corners(g) {
		if at := (coord.LonLat{Lon: p[0], Lat: p[1]}); !at.Valid() {
			return nil, fmt.Errorf("%w: %v", coord.ErrPosition, at)
		}
	}
	return encodeGeometry(g, empty)
}

func corners(g orb.Geometry) []orb.Point {
	switch g := g.(type) {
	case orb.LineString:
		return g
	case orb.MultiPolygon:
		var out []orb.Point
		for _, polygon := range g {
			for _, ring := range polygon {
				out = append(out, ring...)
			}
		}
		return out
	}
	return nil
}
