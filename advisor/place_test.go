package advisor_test

import (
	"reflect"
	"testing"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// What a place says in pieces is what the advice says, in any order of asking.
func TestPlaceIsTheAdvice(t *testing.T) {
	a := newAdvisor(t, region(t, 200))
	for _, at := range lattice(4) {
		q := advisor.Question{At: at, Seed: 3}
		whole, err := a.Advise(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		p := a.At(at)
		odds, layered := p.Layers()
		c, enough, ok, err := p.Chance(t.Context(), q)
		if err != nil || !ok || !layered {
			t.Fatal(ok, layered, err)
		}
		level, levelled, err := p.Level()
		if err != nil || !levelled {
			t.Fatal(levelled, err)
		}
		again, err := p.Advise(t.Context(), q)
		if err != nil || !reflect.DeepEqual(again, whole) {
			t.Errorf("at %v: another advice after other questions: %v", at, err)
		}
		if !reflect.DeepEqual(c, whole.Methods[0]) || enough != (whole.Verdict.Code != advisor.NotEnough) {
			t.Errorf("at %v: %+v, %v, the advice has %+v, %s", at, c, enough, whole.Methods[0], whole.Verdict.Code)
		}
		if level.Low(0.5) != whole.Water.NormalLow.P50 || odds[3][2] != whole.Odds.Odds[3][2] {
			t.Errorf("at %v: other statements", at)
		}
	}
	nowhere := a.At(coord.LonLat{Lon: 500})
	if _, _, _, err := nowhere.Chance(t.Context(), advisor.Question{}); geo.KindOf(err) != geo.Invalid {
		t.Error("off the globe:", err)
	}
	if _, err := a.At(coord.LonLat{}).Advise(t.Context(), advisor.Question{Method: "spade"}); geo.KindOf(err) != geo.Invalid {
		t.Error("no such method:", err)
	}
}
