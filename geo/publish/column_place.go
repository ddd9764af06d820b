package publish

import (
	"strconv"
	"strings"

	"waterstrike/geo"
)

func villageColumns() []column[geo.Village] {
	return []column[geo.Village]{
		{"id", func(v *geo.Village) value { return codeOf(v.ID) }},
		{"name", func(v *geo.Village) value { return wordsOf(v.Name) }},
		{"precision_m", func(v *geo.Village) value { return precision(v.Position) }},
		{"people", func(v *geo.Village) value { return maybe(v.People, countOf) }},
		{"given_by", func(v *geo.Village) value { return wordsOf(v.Source.By) }},
		{"licence", func(v *geo.Village) value { return wordsOf(v.Source.Licence) }},
	}
}

func waterPointColumns() []column[geo.WaterPoint] {
	return []column[geo.WaterPoint]{
		{"id", func(w *geo.WaterPoint) value { return codeOf(w.ID) }},
		{"name", func(w *geo.WaterPoint) value { return wordsOf(w.Name) }},
		{"kind", func(w *geo.WaterPoint) value { return codeOf(w.Kind) }},
		{"precision_m", func(w *geo.WaterPoint) value { return precision(w.Position) }},
		{"depth_m", func(w *geo.WaterPoint) value { return maybe(w.DepthM, numberOf) }},
		{"works", func(w *geo.WaterPoint) value { return maybe(w.Works, boolOf) }},
		{"users", func(w *geo.WaterPoint) value { return maybe(w.Users, countOf) }},
		{"dry_months", func(w *geo.WaterPoint) value { return maybe(w.DryMonths, monthsOf) }},
		{"given_by", func(w *geo.WaterPoint) value { return wordsOf(w.Source.By) }},
		{"licence", func(w *geo.WaterPoint) value { return wordsOf(w.Source.Licence) }},
	}
}

func boundaryColumns() []column[geo.Boundary] {
	return []column[geo.Boundary]{
		{"id", func(b *geo.Boundary) value { return codeOf(b.ID) }},
		{"name", func(b *geo.Boundary) value { return wordsOf(b.Name) }},
		{"kind", func(b *geo.Boundary) value { return wordsOf(b.Kind) }},
		{"given_by", func(b *geo.Boundary) value { return wordsOf(b.Source.By) }},
		{"licence", func(b *geo.Boundary) value { return wordsOf(b.Source.Licence) }},
	}
}

func riverColumns() []column[geo.River] {
	return []column[geo.River]{
		{"id", func(r *geo.River) value { return codeOf(r.ID) }},
		{"name", func(r *geo.River) value { return wordsOf(r.Name) }},
		{"perennial", func(r *geo.River) value { return maybe(r.Perennial, boolOf) }},
		{"given_by", func(r *geo.River) value { return wordsOf(r.Source.By) }},
		{"licence", func(r *geo.River) value { return wordsOf(r.Source.Licence) }},
	}
}

// monthsOf writes "3 4", or "never" for a point that is known never to fall dry.
func monthsOf(s geo.MonthSet) value {
	if s == 0 {
		return codeOf("never")
	}
	var names []string
	for _, m := range s.List() {
		names = append(names, strconv.Itoa(int(m)))
	}
	return codeOf(strings.Join(names, " "))
}
