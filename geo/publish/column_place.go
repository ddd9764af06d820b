package publish

import (
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

func villageColumns() []column[geo.Village] {
	return slices.Concat(
		[]column[geo.Village]{
			token("id", "id", func(v *geo.Village) geo.VillageID { return v.ID }),
			text("name", "name", func(v *geo.Village) string { return v.Name }),
		},
		inside("position", func(v *geo.Village) coord.Reading { return v.Position }, readingColumns()...),
		[]column[geo.Village]{openCount("people", "people", func(v *geo.Village) geo.Opt[int] { return v.People })},
		inside("source", func(v *geo.Village) geo.Provenance { return v.Source }, sourceColumns()...),
	)
}

// waterPointColumns are all but the visits.
func waterPointColumns() []column[geo.WaterPoint] {
	return slices.Concat(
		[]column[geo.WaterPoint]{
			token("id", "id", func(w *geo.WaterPoint) geo.WaterPointID { return w.ID }),
			text("name", "name", func(w *geo.WaterPoint) string { return w.Name }),
			token("kind", "kind", func(w *geo.WaterPoint) geo.PointKind { return w.Kind }),
		},
		inside("position", func(w *geo.WaterPoint) coord.Reading { return w.Position }, readingColumns()...),
		[]column[geo.WaterPoint]{
			openFigure("depth_m", "depthM", func(w *geo.WaterPoint) geo.Opt[float64] { return w.DepthM }),
			openFlag("works", "works", func(w *geo.WaterPoint) geo.Opt[bool] { return w.Works }),
			openCount("users", "users", func(w *geo.WaterPoint) geo.Opt[int] { return w.Users }),
			open("dry_months", months, "dryMonths", func(w *geo.WaterPoint) geo.Opt[geo.MonthSet] { return w.DryMonths }, monthsOf),
		},
		inside("source", func(w *geo.WaterPoint) geo.Provenance { return w.Source }, sourceColumns()...),
	)
}

func waterPointParts() []column[geo.WaterPoint] {
	return []column[geo.WaterPoint]{list("visits", func(w *geo.WaterPoint) []geo.Visit { return w.Visits })}
}

// visitColumns stand after the column that tells the water point.
func visitColumns() []column[geo.Visit] {
	return []column[geo.Visit]{
		token("visited_on", "on", func(v *geo.Visit) string { return v.On.String() }),
		openFlag("works", "works", func(v *geo.Visit) geo.Opt[bool] { return v.Works }),
		openFigure("level_m", "levelM", func(v *geo.Visit) geo.Opt[float64] { return v.LevelM }),
		text("words", "words", func(v *geo.Visit) string { return v.Words }),
	}
}

func ofPoint(columns ...column[geo.Visit]) []column[part[geo.Visit]] {
	return slices.Concat([]column[part[geo.Visit]]{
		token("water_point_id", "", func(p *part[geo.Visit]) string { return p.owner.id }),
	}, within(columns...))
}

func boundaryColumns() []column[geo.Boundary] {
	return slices.Concat(
		[]column[geo.Boundary]{
			token("id", "id", func(b *geo.Boundary) geo.PlaceID { return b.ID }),
			text("name", "name", func(b *geo.Boundary) string { return b.Name }),
			text("kind", "kind", func(b *geo.Boundary) string { return b.Kind }),
		},
		inside("source", func(b *geo.Boundary) geo.Provenance { return b.Source }, sourceColumns()...),
	)
}

func riverColumns() []column[geo.River] {
	return slices.Concat(
		[]column[geo.River]{
			token("id", "id", func(r *geo.River) geo.PlaceID { return r.ID }),
			text("name", "name", func(r *geo.River) string { return r.Name }),
			openFlag("perennial", "perennial", func(r *geo.River) geo.Opt[bool] { return r.Perennial }),
		},
		inside("source", func(r *geo.River) geo.Provenance { return r.Source }, sourceColumns()...),
	)
}

// neverDry stands for a point that is known never to fall dry.
const neverDry = "never"

// monthsOf writes "3 4", or "never".
func monthsOf(s geo.MonthSet) value {
	if s == 0 {
		return codeOf(neverDry)
	}
	var names []string
	for _, m := range s.List() {
		names = append(names, strconv.Itoa(int(m)))
	}
	return codeOf(strings.Join(names, " "))
}
