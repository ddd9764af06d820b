package tile

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
)

// Deepest is the deepest zoom at which tiles are made; a map shows these larger.
const Deepest = 14

// place is a position on the map: 32 bits across and 32 bits down, interleaved, so that
// the places of a tile of any zoom follow each other (Morton, 1966).
type place uint64

// placeOf puts a position on the map; what lies nearer a pole than the map reaches comes
// to stand at its edge.
func placeOf(p coord.LonLat) place {
	x, y := mercator(p.Point())
	bits := func(share float64) uint64 { return uint64(min(max(share*(1<<32), 0), math.MaxUint32)) }
	return place(spread(bits(x)) | spread(bits(y))<<1)
}

// mercator returns a position as shares of the map from its left and upper edges.
func mercator(p orb.Point) (x, y float64) {
	const limit = 85.0511287798 // of WebMercatorQuad
	lat := min(max(p[1], -limit), limit) * math.Pi / 180
	return p[0]/360 + 0.5, 0.5 - math.Asinh(math.Tan(lat))/(2*math.Pi)
}

// position undoes mercator.
func position(x, y float64) coord.LonLat {
	return coord.LonLat{Lon: (x - 0.5) * 360, Lat: math.Atan(math.Sinh((0.5-y)*2*math.Pi)) * 180 / math.Pi}
}

// spread moves each of 32 bits to twice its place.
func spread(v uint64) uint64 {
	v = (v | v<<16) & 0x0000ffff0000ffff
	v = (v | v<<8) & 0x00ff00ff00ff00ff
	v = (v | v<<4) & 0x0f0f0f0f0f0f0f0f
	v = (v | v<<2) & 0x3333333333333333
	return (v | v<<1) & 0x5555555555555555
}

// gather undoes spread.
func gather(v uint64) uint32 {
	v &= 0x5555555555555555
	v = (v | v>>1) & 0x3333333333333333
	v = (v | v>>2) & 0x0f0f0f0f0f0f0f0f
	v = (v | v>>4) & 0x00ff00ff00ff00ff
	v = (v | v>>8) & 0x0000ffff0000ffff
	return uint32(v | v>>16)
}

func (p place) xy() (x, y uint32) { return gather(uint64(p)), gather(uint64(p) >> 1) }

// span returns the first and last place of a tile.
func span(t maptile.Tile) (first, last place) {
	bits := 64 - 2*uint(t.Z)
	first = place((spread(uint64(t.X)) | spread(uint64(t.Y))<<1) << bits)
	return first, first + place(uint64(1)<<bits) - 1
}

// within returns a place in the coordinates of a tile of a zoom up to 20.
func within(t maptile.Tile, x, y uint32) orb.Point {
	const extent = 12 // bits: 4096
	down := 32 - uint(t.Z)
	return orb.Point{
		float64((uint64(x) - uint64(t.X)<<down) >> (down - extent)),
		float64((uint64(y) - uint64(t.Y)<<down) >> (down - extent)),
	}
}

// Address returns the tile of a zoom, a column and a row.
//
//   - Errors: [geo.NotFound] for one that there is not.
func Address(z, x, y int) (maptile.Tile, error) {
	if z < 0 || z > Deepest || x < 0 || y < 0 || x >= 1<<z || y >= 1<<z {
		return maptile.Tile{}, geo.Fail(geo.NotFound, "tile.Address", geo.Say("problem.no-tile"), nil)
	}
	return maptile.New(uint32(x), uint32(y), maptile.Zoom(z)), nil
}
