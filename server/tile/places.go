package tile

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"
)

// Ground is what there is on the land besides bores.
type Ground struct {
	Villages   []geo.Village // the most important first
	Points     []geo.WaterPoint
	Boundaries []geo.Boundary
	Rivers     []geo.River
	Streams    []terrain.Stream        // worked out from elevations
	Roads      []Named[orb.LineString] // drawn by others
	Marks      []Named[orb.Point]      // likewise: schools, markets
}

// Named is something drawn by others, with its name where it has one.
type Named[G orb.Geometry] struct {
	Name  string
	Shape G
}

// Places is a ground arranged by place. It never changes and is safe for concurrent use.
type Places struct {
	Ground
	villages, points, marks            spots
	boundaries, rivers, streams, roads []line
}

// The kinds of water points that are told apart in a group.
const (
	works = iota
	broken
	unknown
)

// NewPlaces arranges a ground.
func NewPlaces(g Ground) *Places {
	p := &Places{Ground: g}
	villages, points := make([]spot, len(g.Villages)), make([]spot, len(g.Points))
	for i, v := range g.Villages {
		villages[i] = spot{at: placeOf(v.Position.Pos), i: uint32(i)}
	}
	for i, w := range g.Points {
		points[i] = spot{at: placeOf(w.Position.Pos), i: uint32(i), kind: state(w)}
	}
	p.villages, p.points = newSpots(villages), newSpots(points)
	for _, b := range g.Boundaries {
		for _, polygon := range b.Shape {
			for _, ring := range polygon {
				p.boundaries = append(p.boundaries, newLine(orb.LineString(ring), 0, geojson.Properties{"name": b.Name}))
			}
		}
	}
	for _, r := range g.Rivers {
		p.rivers = append(p.rivers, newLine(r.Line, 0, geojson.Properties{"name": r.Name}))
	}
	for _, r := range g.Roads {
		p.roads = append(p.roads, newLine(r.Shape, roadsFrom, geojson.Properties{"name": r.Name}))
	}
	marks := make([]spot, len(g.Marks))
	for i, m := range g.Marks {
		marks[i] = spot{at: placeOf(coord.LonLat{Lon: m.Shape[0], Lat: m.Shape[1]}), i: uint32(i)}
	}
	p.marks = newSpots(marks)
	largest := slices.SortedStableFunc(slices.Values(g.Streams), func(a, b terrain.Stream) int { return cmp.Compare(b.AreaM2, a.AreaM2) })
	for _, s := range largest {
		p.streams = append(p.streams, newLine(s.Line, shownFrom(s.AreaM2), nil))
	}
	return p
}

// The zooms from which what others drew is shown: farther out it hides the bores.
const (
	roadsFrom = 7
	marksFrom = 10
)

func state(w geo.WaterPoint) uint8 {
	runs, known := w.Works.Get()
	switch {
	case !known:
		return unknown
	case runs:
		return works
	}
	return broken
}

// shownFrom is the zoom from which a stream is shown: each zoom closer shows what drains a
// third as much, down to 10 km² at zoom 11.
func shownFrom(areaM2 float64) maptile.Zoom {
	return maptile.Zoom(min(max(math.Round(11-math.Log(areaM2/1e7)/math.Log(3)), 0), 11))
}

// Layers returns what a tile shows. "villages": name, people where known, and more, how
// many others of its part of the tile it stands for. "points": state ("works", "broken",
// "unknown"), or n with the number of each state for many told as one. "boundaries",
// "rivers", "roads", "marks": name. "streams".
func (p *Places) Layers(t maptile.Tile) mvt.Layers {
	return full(
		p.villageLayer(t), p.pointLayer(t),
		lineLayer("boundaries", t, p.boundaries), lineLayer("rivers", t, p.rivers), lineLayer("streams", t, p.streams), lineLayer("roads", t, p.roads), p.markLayer(t),
	)
}

func (p *Places) villageLayer(t maptile.Tile) *mvt.Layer {
	single, groups := p.villages.tell(t, nil)
	out := layer("villages", len(single)+len(groups))
	for _, a := range single {
		out.Features = append(out.Features, p.village(t, a, 0))
	}
	for _, g := range groups {
		first := slices.MinFunc(p.villages.list[g.of.from:g.of.to], func(a, b spot) int { return cmp.Compare(a.i, b.i) })
		out.Features = append(out.Features, p.village(t, first, g.n-1))
	}
	return out
}

func (p *Places) village(t maptile.Tile, a spot, more int) *geojson.Feature {
	x, y := a.at.xy()
	v, f := p.Villages[a.i], geojson.NewFeature(within(t, x, y))
	f.Properties["name"] = v.Name
	if people, known := v.People.Get(); known {
		f.Properties["people"] = people
	}
	if more > 0 {
		f.Properties["more"] = more
	}
	return f
}

func (p *Places) pointLayer(t maptile.Tile) *mvt.Layer {
	names := [...]string{works: "works", broken: "broken", unknown: "unknown"}
	single, groups := p.points.tell(t, nil)
	out := layer("points", len(single)+len(groups))
	for _, a := range single {
		x, y := a.at.xy()
		f := geojson.NewFeature(within(t, x, y))
		f.Properties["state"] = names[a.kind]
		out.Features = append(out.Features, f)
	}
	for _, g := range groups {
		f := geojson.NewFeature(g.at)
		f.Properties["n"] = g.n
		for kind, name := range names {
			f.Properties[name] = g.counts[kind]
		}
		out.Features = append(out.Features, f)
	}
	return out
}

// markLayer tells single places only: a number of them is no place.
func (p *Places) markLayer(t maptile.Tile) *mvt.Layer {
	if t.Z < marksFrom {
		return layer("marks", 0)
	}
	single, _ := p.marks.tell(t, nil)
	out := layer("marks", len(single))
	for _, a := range single {
		x, y := a.at.xy()
		f := geojson.NewFeature(within(t, x, y))
		f.Properties["name"] = p.Marks[a.i].Name
		out.Features = append(out.Features, f)
	}
	return out
}
