package advisor

import (
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Nobody is sent to drill beside a well that gives water without a word of it.
func TestWordOfABoreAtTheSpot(t *testing.T) {
	for _, tt := range []struct {
		outcome geo.Outcome
		m       float64
		said    int
	}{{geo.Producing, 1, 1}, {geo.Producing, 50, 1}, {geo.Producing, 51, 0}, {geo.Dry, 1, 0}} {
		near := gathered{nearest: []evidence.Near{{Bore: &evidence.Bore{Label: "B", Outcome: tt.outcome}, DistanceM: tt.m}}}
		if got := new(Advisor).beside(near); len(got) != tt.said {
			t.Errorf("%s at %v m: %v", tt.outcome, tt.m, got)
		}
	}
}

// Bores near by whose water flows out make a crew ready for it, however deep the middle of
// the levels is; those beyond five kilometres do not.
func TestNeighboursThatFlowAreSaid(t *testing.T) {
	near := Evidence{Bores: []EvidenceBore{{Flows: true, DistanceM: 900}, {Flows: true, DistanceM: 300}, {DistanceM: 100}}}
	w := welldesign.Well{Notes: []geo.Message{geo.Say("well.note.thin-pack")}}
	near.flows(&w)
	if !w.MayFlow || len(w.Notes) != 2 || w.Notes[0].Code != "well.note.neighbours-flow" {
		t.Fatalf("%+v", w)
	}
	if n, d := w.Notes[0].Args[0].Value, w.Notes[0].Args[1].Value; n != geo.Count(2) || d != geo.DistanceM(300) {
		t.Errorf("%v bores, the nearest at %v", n, d)
	}
	far, dry := Evidence{Bores: []EvidenceBore{{Flows: true, DistanceM: 5001}}}, welldesign.Well{}
	if far.flows(&dry); dry.MayFlow || dry.Notes != nil {
		t.Errorf("%+v", dry)
	}
}

// The likeliest layers are as fine as most of what may lie there: metres count by the weight
// of their column, those of other classes and depths do not.
func TestUsualGrade(t *testing.T) {
	column := func(weight float64, layers ...welldesign.Layer) welldesign.Possible {
		return welldesign.Possible{Site: welldesign.Site{Layers: layers}, Weight: weight}
	}
	sand := func(top, base float64, g soil.Grade) welldesign.Layer {
		return welldesign.Layer{TopM: top, BaseM: base, Class: soil.Sand, Grade: g}
	}
	columns := []welldesign.Possible{
		column(1, sand(0, 6, soil.Coarse), sand(6, 10, soil.Fine)),
		column(2, welldesign.Layer{TopM: 0, BaseM: 6, Class: soil.Clay}, sand(6, 10, soil.Medium)),
		column(0.5, sand(0, 20, soil.Fine)),
	}
	for _, tt := range []struct {
		of   welldesign.Layer
		want soil.Grade
	}{
		{sand(0, 6, soil.GradeUnknown), soil.Coarse},  // 6 m against 3
		{sand(6, 10, soil.GradeUnknown), soil.Medium}, // 8 m against 6
		{sand(12, 15, soil.GradeUnknown), soil.Fine},
		{sand(25, 30, soil.GradeUnknown), soil.GradeUnknown},
	} {
		if got, _ := usualGrade(columns, tt.of); got != tt.want {
			t.Errorf("%v to %v m: %q, want %q", tt.of.TopM, tt.of.BaseM, got, tt.want)
		}
	}
}
