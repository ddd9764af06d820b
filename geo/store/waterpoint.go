package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// WaterPointLayer is the layer of the water points, as [Changed] names it.
const WaterPointLayer = "water_point"

var waterPoints = record[geo.WaterPoint]{
	table: table[geo.WaterPoint]{
		name: WaterPointLayer,
		fields: slices.Concat(
			[]field[geo.WaterPoint]{
				text("id", func(w *geo.WaterPoint) *geo.WaterPointID { return &w.ID }),
				text("name", func(w *geo.WaterPoint) *string { return &w.Name }),
				text("kind", func(w *geo.WaterPoint) *geo.PointKind { return &w.Kind }),
			},
			inside(func(w *geo.WaterPoint) *coord.Reading { return &w.Position }, reading()...),
			[]field[geo.WaterPoint]{
				maybeNumber("depth_m", func(w *geo.WaterPoint) *geo.Opt[float64] { return &w.DepthM }),
				maybeYesNo("works", func(w *geo.WaterPoint) *geo.Opt[bool] { return &w.Works }),
				maybeCount("users", func(w *geo.WaterPoint) *geo.Opt[int] { return &w.Users }),
				maybe("dry_months", func(w *geo.WaterPoint) *geo.Opt[geo.MonthSet] { return &w.DryMonths }, putMonths, monthsOf),
			},
			inside(func(w *geo.WaterPoint) *geo.Provenance { return &w.Source }, provenance()...),
		),
		parts: []part[geo.WaterPoint]{
			&parts[geo.WaterPoint, geo.Visit]{visits, func(w *geo.WaterPoint) *[]geo.Visit { return &w.Visits }},
		},
	},
	source: func(w *geo.WaterPoint) *geo.Provenance { return &w.Source },
	id:     func(w *geo.WaterPoint) string { return string(w.ID) },
	label:  func(w *geo.WaterPoint) string { return cmp.Or(w.Name, string(w.ID)) },
	check:  geo.NewWaterPoint,
}

var visits = table[geo.Visit]{
	name: "visit", parent: "water_point_fid", keys: []string{"visited_on"},
	fields: []field[geo.Visit]{
		{
			"visited_on",
			func(v *geo.Visit) (any, error) { return putDay(v.On) },
			func(v *geo.Visit, cell any) (err error) { v.On, err = dayOf(cell); return err },
		},
		maybeYesNo("works", func(v *geo.Visit) *geo.Opt[bool] { return &v.Works }),
		maybeNumber("level_m", func(v *geo.Visit) *geo.Opt[float64] { return &v.LevelM }),
		text("words", func(v *geo.Visit) *string { return &v.Words }),
	},
}

// putDay stores the day of a visit, nothing where nobody wrote it.
func putDay(d geo.Date) (any, error) {
	if d == (geo.Date{}) {
		return nil, nil
	}
	return putDate(d)
}

func dayOf(cell any) (geo.Date, error) {
	if cell == nil {
		return geo.Date{}, nil
	}
	return dateOf(cell)
}

// neverDry stands for a known and empty set of dry months: tables shown by a GIS do not
// tell an empty text from a missing one.
const neverDry = "never"

func putMonths(s geo.MonthSet) (any, error) {
	if s == 0 {
		return neverDry, nil
	}
	var names []string
	for _, m := range s.List() {
		names = append(names, strconv.Itoa(int(m)))
	}
	return strings.Join(names, " "), nil
}

func monthsOf(cell any) (geo.MonthSet, error) {
	s, err := textOf(cell)
	if err != nil || s == neverDry {
		return 0, err
	}
	var months []time.Month
	for _, name := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' }) {
		n, err := strconv.Atoi(name)
		if err != nil || n < 1 || n > 12 {
			return 0, fmt.Errorf("%q is not a month from 1 to 12", name)
		}
		months = append(months, time.Month(n))
	}
	return geo.Months(months...), nil
}

// WaterPoints calls fn with every water point and its visits, in the order of their ids.
func (b *Base) WaterPoints(ctx context.Context, fn func(geo.WaterPoint) error) error {
	return each(ctx, b, waterPoints, everything, fn)
}

// WaterPoint returns one water point; [geo.NotFound] when it is hidden or was never here.
func (b *Base) WaterPoint(ctx context.Context, id geo.WaterPointID) (geo.WaterPoint, error) {
	return one(ctx, b, waterPoints, string(id))
}

// SaveWaterPoint adds a water point or replaces it whole, as [Base.SaveBore] does.
func (b *Base) SaveWaterPoint(ctx context.Context, w geo.WaterPoint, why Why) error {
	return saveOne(ctx, b, waterPoints, w, why)
}
