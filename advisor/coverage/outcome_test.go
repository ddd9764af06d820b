package coverage_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
)

// Five bores, worked by hand: two of three known outcomes produce; 4,200 for 60 m is 70 a
// metre; 4,200 for two producing bores is 2,100 each; 4,200 for 400 people is 10.50 each.
func TestOutcomesByHand(t *testing.T) {
	one := geo.Some[float64]
	bores := []coverage.Bore{
		{ID: "b1", Group: "north", Outcome: geo.Producing, Predicted: one(0.8), DepthM: one(20), Cost: one(1800), Served: geo.Some(250)},
		{ID: "b2", Group: "north", Outcome: geo.Dry, Predicted: one(0.6), DepthM: one(25), Cost: one(900)},
		{ID: "b3", Group: "south", Outcome: geo.Producing, DepthM: one(15), Cost: one(1500), Served: geo.Some(150)},
		{ID: "b4", Group: "south", Outcome: geo.OutcomeUnknown, Predicted: one(0.5), DepthM: one(10)},
		{ID: "b5", Group: "south", Predicted: one(0.5), Cost: one(100)},
	}
	all, groups, err := coverage.Outcomes(bores)
	if err != nil {
		t.Fatal(err)
	}
	if r := all.Rate; r.Producing != 2 || r.Known != 3 || math.Abs(r.Share.Or(0)-2.0/3) > 1e-15 || r.Range != coverage.Wilson(2, 3) ||
		!slices.Equal(r.Records, []string{"b1", "b2", "b3"}) || !slices.Equal(r.Unknown, []string{"b4", "b5"}) {
		t.Errorf("rate %+v", r)
	}
	if k := all.Kept; k.Bores != 2 || math.Abs(k.Foretold-1.4) > 1e-15 || k.Found != 1 || k.Range != [2]int{0, 2} || !slices.Equal(k.Records, []string{"b1", "b2"}) {
		t.Errorf("kept %+v", k)
	}
	for _, c := range []struct {
		name    string
		got     coverage.Ratio
		per     float64
		records string
		lacking string
	}{
		{"metre", all.Cost.Metre, 70, "b1 b2 b3", "b4 b5"},
		{"success", all.Cost.Success, 2100, "b1 b2 b3", "b4 b5"},
		{"person", all.Cost.Person, 10.5, "b1 b2 b3", "b4 b5"},
	} {
		if c.got.Per.Or(0) != c.per || strings.Join(c.got.Records, " ") != c.records || strings.Join(c.got.Lacking, " ") != c.lacking {
			t.Errorf("%s: %+v", c.name, c.got)
		}
	}
	if len(groups) != 2 || groups[0].Group != "north" || groups[1].Rate.Producing != 1 || groups[1].Kept.Bores != 0 || groups[1].Kept.MeanSaid.Known() {
		t.Errorf("groups %+v", groups)
	}
	if got := fmt.Sprint(all.Outcomes); got != "[{ [b5]} {dry [b2]} {producing [b1 b3]} {unknown [b4]}]" {
		t.Errorf("outcomes %s", got)
	}
}

// A group in which nothing produced has no cost per success, rather than an endless one.
func TestNothingBought(t *testing.T) {
	all, _, err := coverage.Outcomes([]coverage.Bore{{ID: "b", Outcome: geo.Refused, Cost: geo.Some(700.0), DepthM: geo.Some(0.0)}})
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]coverage.Ratio{"metre": all.Cost.Metre, "success": all.Cost.Success, "person": all.Cost.Person} {
		if r.Per.Known() || r.Cost != 700 || r.Bought != 0 {
			t.Errorf("%s: %+v", name, r)
		}
	}
	all, groups, err := coverage.Outcomes(nil)
	if err != nil || len(groups) != 0 || all.Rate.Share.Known() || all.Rate.Range != (coverage.Interval{Lo: 0, Hi: 1}) {
		t.Errorf("no bores: %+v, %v", all.Rate, err)
	}
}

// How many of some stated chances may come true, against R's convolution.
func TestKeptAgainstR(t *testing.T) {
	for _, row := range table(t, "chances.csv") {
		var bores []coverage.Bore
		for i, text := range strings.Fields(row["chances"]) {
			bores = append(bores, coverage.Bore{ID: fmt.Sprint(i), Outcome: geo.Dry, Predicted: geo.Some(number(t, text))})
		}
		all, _, err := coverage.Outcomes(bores)
		if err != nil {
			t.Fatal(err)
		}
		if want := [2]int{int(number(t, row["lo"])), int(number(t, row["hi"]))}; all.Kept.Range != want {
			t.Errorf("case %s: %v, want %v", row["case"], all.Kept.Range, want)
		}
	}
}

func TestOutcomesRefuse(t *testing.T) {
	for _, c := range []struct {
		name  string
		bores []coverage.Bore
		says  string
	}{
		{"no ID", []coverage.Bore{{}}, "coverage.no-id"},
		{"twice", []coverage.Bore{{ID: "b"}, {ID: "b"}}, "coverage.bore-twice id=b"},
		{"chance above 1", []coverage.Bore{{ID: "b", Predicted: geo.Some(1.1)}}, "coverage.bad-chance id=b"},
		{"chance no number", []coverage.Bore{{ID: "b", Predicted: geo.Some(math.NaN())}}, "coverage.bad-chance id=b"},
		{"depth below 0", []coverage.Bore{{ID: "b", DepthM: geo.Some(-1.0)}}, "coverage.bad-figure id=b"},
		{"cost endless", []coverage.Bore{{ID: "b", Cost: geo.Some(math.Inf(1))}}, "coverage.bad-figure id=b"},
		{"people below 0", []coverage.Bore{{ID: "b", Served: geo.Some(-1)}}, "coverage.bad-figure id=b"},
	} {
		_, _, err := coverage.Outcomes(c.bores)
		refused(t, c.name, err, geo.Invalid, c.says)
	}
}
