package main

import (
	"strconv"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/features"

	"github.com/paulmach/orb"
)

// Names of the collections of a base.
const (
	boreFeatures    = "bores"
	layerFeatures   = "layers"
	villageFeatures = "villages"
	pointFeatures   = "water-points"
	adviceFeatures  = "advice"
)

// layerOf is one layer of a bore.
type layerOf struct {
	*evidence.Bore
	number int // from 0
}

func (l layerOf) layer() *evidence.Layer { return &l.Layers[l.number] }

func lonLat(at coord.LonLat) orb.Point { return orb.Point{at.Lon, at.Lat} }

// stated is what a bore states of the level.
func stated(b *evidence.Bore) (l evidence.Level, ok bool) {
	if len(b.Levels) == 0 {
		return l, false
	}
	return b.Levels[0], true
}

func boreTable() *features.Table[*evidence.Bore] {
	return &features.Table[*evidence.Bore]{
		Collection: features.Collection{Name: boreFeatures, Title: "features.bores"},
		ID:         func(b *evidence.Bore) string { return string(b.ID) },
		At:         func(b *evidence.Bore) orb.Point { return lonLat(b.Pos) },
		On:         func(b *evidence.Bore) geo.Date { return b.Completed },
		Columns: []features.Column[*evidence.Bore]{
			{Name: "label", Text: func(b *evidence.Bore) string { return b.Label }},
			{Name: "method", Text: func(b *evidence.Bore) string { return string(b.Method) }},
			{Name: "outcome", Text: func(b *evidence.Bore) string { return string(b.Outcome) }},
			{Name: "completed", Day: func(b *evidence.Bore) geo.Date { return b.Completed }},
			{Name: "depth_m", Number: func(b *evidence.Bore) geo.Opt[float64] { return b.DepthM }},
			{Name: "refusal_m", Number: func(b *evidence.Bore) geo.Opt[float64] { return b.RefusalM }},
			{Name: "level_state", Text: func(b *evidence.Bore) string { l, _ := stated(b); return string(l.State) }},
			{Name: "level_m", Short: func(b *evidence.Bore) (depth geo.Opt[float32]) {
				if l, ok := stated(b); ok && l.State != geo.LevelFlowing {
					depth = geo.Some(l.DepthM)
				}
				return depth
			}},
			{Name: "layers", Whole: func(b *evidence.Bore) geo.Opt[int] { return geo.Some(len(b.Layers)) }},
		},
	}
}

func layerTable() *features.Table[layerOf] {
	return &features.Table[layerOf]{
		Collection: features.Collection{Name: layerFeatures, Title: "features.layers"},
		ID:         func(l layerOf) string { return string(l.ID) + "." + strconv.Itoa(l.number+1) },
		At:         func(l layerOf) orb.Point { return lonLat(l.Pos) },
		On:         func(l layerOf) geo.Date { return l.Completed },
		Columns: []features.Column[layerOf]{
			{Name: "bore", Text: func(l layerOf) string { return string(l.ID) }},
			{Name: "top_m", Short: func(l layerOf) geo.Opt[float32] { return geo.Some(l.layer().TopM) }},
			{Name: "base_m", Short: func(l layerOf) geo.Opt[float32] { return geo.Some(l.layer().BaseM) }},
			{Name: "class", Text: func(l layerOf) string { return l.layer().Class.String() }},
			{Name: "grade", Text: func(l layerOf) string { return l.layer().Grade.String() }},
		},
	}
}

func villageTable() *features.Table[geo.Village] {
	return &features.Table[geo.Village]{
		Collection: features.Collection{Name: villageFeatures, Title: "features.villages"},
		ID:         func(v geo.Village) string { return string(v.ID) },
		At:         func(v geo.Village) orb.Point { return lonLat(v.Position.Pos) },
		Columns: []features.Column[geo.Village]{
			{Name: "name", Text: func(v geo.Village) string { return v.Name }},
			{Name: "people", Whole: func(v geo.Village) geo.Opt[int] { return v.People }},
		},
	}
}

func waterPointTable() *features.Table[geo.WaterPoint] {
	return &features.Table[geo.WaterPoint]{
		Collection: features.Collection{Name: pointFeatures, Title: "features.water-points"},
		ID:         func(w geo.WaterPoint) string { return string(w.ID) },
		At:         func(w geo.WaterPoint) orb.Point { return lonLat(w.Position.Pos) },
		On:         visitedOn,
		Columns: []features.Column[geo.WaterPoint]{
			{Name: "name", Text: func(w geo.WaterPoint) string { return w.Name }},
			{Name: "kind", Text: func(w geo.WaterPoint) string { return string(w.Kind) }},
			{Name: "works", Flag: func(w geo.WaterPoint) geo.Opt[bool] { return w.Works }},
			{Name: "users", Whole: func(w geo.WaterPoint) geo.Opt[int] { return w.Users }},
			{Name: "depth_m", Number: func(w geo.WaterPoint) geo.Opt[float64] { return w.DepthM }},
			{Name: "last_visit", Day: visitedOn},
		},
	}
}

// visitedOn is the day of the last visit to a point.
func visitedOn(w geo.WaterPoint) (last geo.Date) {
	for _, v := range w.Visits {
		if v.On.Compare(last) > 0 {
			last = v.On
		}
	}
	return last
}
