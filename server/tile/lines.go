package tile

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"
	"github.com/paulmach/orb/simplify"
)

// line is a line over the land with what is told of it, and the zoom from which it is
// shown.
type line struct {
	path  orb.LineString // WGS 84
	bound orb.Bound
	from  maptile.Zoom
	tells geojson.Properties
}

func newLine(path orb.LineString, from maptile.Zoom, tells geojson.Properties) line {
	return line{path, path.Bound(), from, tells}
}

const (
	beyond     = 64     // units by which lines go on over a tile's edge, so that their strokes meet
	fine       = 3      // units that a line may be off: a third of a pixel
	mostPoints = 20_000 // of the lines of a tile: no more than 100 kB
)

// lineLayer returns what of lines lies in a tile, until the tile is full: the first ones
// count most.
func lineLayer(name string, t maptile.Tile, lines []line) *mvt.Layer {
	out := layer(name, 0)
	box := t.Bound(float64(beyond) / mvt.DefaultExtent)
	around := orb.Bound{Min: orb.Point{-beyond, -beyond}, Max: orb.Point{mvt.DefaultExtent + beyond, mvt.DefaultExtent + beyond}}
	points := 0
	for _, l := range lines {
		if t.Z < l.from || !l.bound.Intersects(box) {
			continue
		}
		parts := clip.LineString(around, onTile(t, l.path))
		for i := range parts {
			parts[i] = simplify.DouglasPeucker(fine).LineString(parts[i])
			points += len(parts[i])
		}
		if points > mostPoints {
			break
		}
		if len(parts) > 0 {
			f := geojson.NewFeature(parts)
			f.Properties = l.tells
			out.Features = append(out.Features, f)
		}
	}
	return out
}

// onTile returns a line in the coordinates of a tile, which go on beyond its edges.
func onTile(t maptile.Tile, path orb.LineString) orb.LineString {
	out := make(orb.LineString, len(path))
	across := float64(uint64(1) << t.Z)
	for i, p := range path {
		x, y := mercator(p)
		out[i] = orb.Point{
			math.Round((x*across - float64(t.X)) * mvt.DefaultExtent),
			math.Round((y*across - float64(t.Y)) * mvt.DefaultExtent),
		}
	}
	return out
}
