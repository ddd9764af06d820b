package advisor

import (
	"math"
	"slices"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// A layer between two depths, metres.
func layer(top, base float32, class soil.Class) evidence.Layer {
	return evidence.Layer{TopM: top, BaseM: base, Class: class}
}

// cells are n cells of one class.
func cells(class soil.Class, n int) []soil.Class { return slices.Repeat([]soil.Class{class}, n) }

// What a log cannot mean is read in one plain way: the first of two layers that overlap,
// nothing of a layer without thickness or upside down, nothing below the model, and no class
// where nobody described one.
func TestBadLayersInCells(t *testing.T) {
	tests := map[string]struct {
		layers []evidence.Layer
		want   []soil.Class
	}{
		"overlap": {
			[]evidence.Layer{layer(0, 3, soil.Clay), layer(2, 4, soil.Sand)},
			slices.Concat(cells(soil.Clay, 6), cells(soil.Sand, 2)),
		},
		"two logs of one bore": {
			[]evidence.Layer{layer(0, 2, soil.Clay), layer(2, 4, soil.Sand), layer(0, 4, soil.Rock)},
			slices.Concat(cells(soil.Clay, 4), cells(soil.Sand, 4)),
		},
		"no thickness":   {[]evidence.Layer{layer(0, 1, soil.Clay), layer(1, 1, soil.Rock), layer(1, 2, soil.Sand)}, slices.Concat(cells(soil.Clay, 2), cells(soil.Sand, 2))},
		"only a line":    {[]evidence.Layer{layer(0, 0, soil.Rock)}, nil},
		"upside down":    {[]evidence.Layer{layer(0, 1, soil.Clay), layer(4, 1, soil.Rock)}, cells(soil.Clay, 2)},
		"a gap":          {[]evidence.Layer{layer(0, 1, soil.Clay), layer(2, 3, soil.Sand)}, slices.Concat(cells(soil.Clay, 2), cells(soil.Unknown, 2), cells(soil.Sand, 2))},
		"nothing named":  {[]evidence.Layer{layer(0, 9, soil.Unknown)}, nil},
		"below it all":   {[]evidence.Layer{layer(50, 60, soil.Rock)}, cells(soil.Unknown, strata.Cells)},
		"deeper than it": {[]evidence.Layer{layer(0, 300, soil.Rock)}, cells(soil.Rock, strata.Cells)},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			if got := logOf(&evidence.Bore{Layers: tt.layers}).Cells; !slices.Equal(got, tt.want) {
				t.Errorf("cells %v, want %v", got, tt.want)
			}
		})
	}
}

// A record whose layers are no layers is refused before it can be evidence.
func TestBadLayersAreRefused(t *testing.T) {
	for name, l := range map[string]geo.Layer{
		"no thickness": {TopM: 3, BaseM: 3, Class: soil.Clay}, "upside down": {TopM: 4, BaseM: 1, Class: soil.Clay},
		"no number": {TopM: 0, BaseM: math.NaN(), Class: soil.Clay},
	} {
		_, err := geo.NewBore(geo.Bore{ID: "00000000-0000-4000-8000-000000000000", Method: geo.MethodUnknown, Outcome: geo.OutcomeUnknown, Layers: []geo.Layer{l}})
		if geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// ground makes a whole ground of a column.
func (x *grader) ground(classes strata.Column) *ground {
	g := new(ground)
	x.grade(g, classes, nil, strata.Cells)
	return g
}

// Coarse sand under fine sand gives what coarse sand gives, in one run of sand.
func TestEveryCellHasItsGrade(t *testing.T) {
	bore := evidence.Bore{Layers: []evidence.Layer{
		{TopM: 0, BaseM: 6, Class: soil.Sand, Grade: soil.Fine}, {TopM: 6, BaseM: 40, Class: soil.Sand, Grade: soil.Coarse},
	}}
	var classes strata.Column
	copy(classes[:], logOf(&bore).Cells)
	g := newGrader([]evidence.Near{{Bore: &bore}}, nil).ground(classes)
	for cell, grade := range map[int]soil.Grade{0: soil.Fine, 11: soil.Fine, 12: soil.Coarse, 60: soil.Coarse} {
		want := soil.ConductivityOf(soil.Sand, grade, false).MetresPerDay() * strata.CellM
		if got := g.t[cell+1].t - g.t[cell].t; math.Abs(got/want-1) > 1e-9 { // differences of sums
			t.Errorf("cell %d gives %v m²/d, %v sand %v", cell, got, grade, want)
		}
	}
}
