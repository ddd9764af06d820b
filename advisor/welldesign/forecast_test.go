package welldesign_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// One column: the forecast is its design; only hours and water spread.
func TestForecastOfOne(t *testing.T) {
	k := kit(t, "auger")
	w := designed(t, valley(), k)
	f, wells, err := welldesign.Foresee([]welldesign.Possible{{Site: valley(), Weight: 3}}, k)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "fits", f.Fits, w.Chance, 1e-12)
	if f.BottomM.P50 != w.BottomM || f.BottomM.P80 != w.BottomM || wells[0].BottomM != w.BottomM {
		t.Errorf("bottom %+v, design %v", f.BottomM, w.BottomM)
	}
	// Of five equal slices of the pace the third holds the middle, the fourth four fifths.
	near(t, "drilling", f.DrillH.P50, welldesign.Hours(w, k, 0).DrillH, 1e-9)
	near(t, "drilling in four fifths", f.DrillH.P80, welldesign.Hours(w, k, 0.5244005127080407).DrillH, 1e-9)
	if len(f.Tools) == 0 || f.Tools[0].Share < 1-1e-9 {
		t.Errorf("tools %+v", f.Tools)
	}
	for _, l := range f.Loads {
		if l.Item == welldesign.CasingPipe && l.Carry != l.P80+1 { // a tenth, one at least
			t.Errorf("casing %+v", l)
		}
	}
}

// Nobody is sent out with less than the well on the sheet takes.
func TestForecastCoversTheWellShown(t *testing.T) {
	k := kit(t, "auger")
	deep := valley()
	deep.Layers = column(soil.Topsoil, 0.5, soil.Clay, 7.0, soil.Coarse, 10.0, soil.Clay, 10.0)
	shown := designed(t, deep, k)
	f, wells, err := welldesign.Foresee([]welldesign.Possible{{Site: valley(), Weight: 1}}, k)
	if err != nil || shown.BottomM <= wells[0].BottomM {
		t.Fatalf("%v; shown to %v m, foreseen to %v m", err, shown.BottomM, wells[0].BottomM)
	}
	before := f.BottomM
	f.Cover(shown, k)
	carried := map[welldesign.Item]float64{}
	for _, l := range f.Loads {
		carried[l.Item] = l.Carry
	}
	for item, takes := range welldesign.Quantities(shown, k, 0.5) {
		if carried[item] < takes {
			t.Errorf("%s: %v loaded, the well shown takes %v", item, carried[item], takes)
		}
	}
	if f.BottomM != before {
		t.Errorf("what is foreseen moved to %+v", f.BottomM)
	}
}

func TestForecastRefusesWeights(t *testing.T) {
	k := kit(t, "auger")
	for _, weights := range [][]float64{{}, {0}, {-1, 2}, {math.NaN()}, {math.Inf(1)}} {
		var columns []welldesign.Possible
		for _, w := range weights {
			columns = append(columns, welldesign.Possible{Site: valley(), Weight: w})
		}
		if _, _, err := welldesign.Foresee(columns, k); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%v: %v", weights, err)
		}
	}
}

// By hand: lengths of casing at 10, screen at 15, the rest without a price.
func TestCostByHand(t *testing.T) {
	k := kit(t, "auger")
	k.Prices = &welldesign.Prices{
		Currency: "USD", PersonDay: geo.Some(6.0), Fixed: geo.Some(100.0),
		Items: map[string]float64{"casing": 99, "casing-110": 10, "screen": 15},
	}
	w := designed(t, valley(), k)
	q := welldesign.Quantities(w, k, 0.5)
	work := welldesign.Hours(w, k, 0)
	cost := welldesign.CostOf(w, k, 0, 0.5)
	want := 10*q[welldesign.CasingPipe] + 15*q[welldesign.ScreenPipe] + 6*work.DaysOut*4 + 100
	near(t, "known", cost.Known.Amount, want, 0.005)
	if cost.Known.Currency != "USD" || len(cost.Missing) == 0 {
		t.Errorf("%+v", cost)
	}
}

func TestCostNamesWhatHasNoPrice(t *testing.T) {
	k := kit(t, "auger")
	k.Prices = &welldesign.Prices{Currency: "USD", Items: map[string]float64{}}
	for _, item := range welldesign.Items() {
		if item != welldesign.PumpSet && item != welldesign.Joints {
			k.Prices.Items[string(item)] = 1
		}
	}
	cost := welldesign.CostOf(designed(t, valley(), k), k, 0, 0.5)
	var missing []string
	for _, m := range cost.Missing {
		missing = append(missing, m.String())
	}
	text := strings.Join(missing, "; ")
	for _, want := range []string{`entry="joints-110", "pump"`, "item.joints item.pump", "cost.no-person-day", "cost.no-fixed", "file=rules/prices.json"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s does not name %s", text, want)
		}
	}
	if len(cost.Missing) != 3 {
		t.Errorf("missing %s", text)
	}
}

func ExampleForesee() {
	k := kit(new(testing.T), "auger")
	sand := welldesign.Site{Layers: column(soil.Clay, 4.0, soil.Coarse, 8.0), Water: water(3, 5, 6)}
	clay := welldesign.Site{Layers: column(soil.Clay, 20.0), Water: water(3, 5, 6)}
	f, _, err := welldesign.Foresee([]welldesign.Possible{{Site: sand, Weight: 3}, {Site: clay, Weight: 1}}, k)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a well in %.0f of 100, bottom %.1f m\n", 100*f.Fits, f.BottomM.P50)
	fmt.Println(f.Why[0].Code)
	// Output:
	// a well in 74 of 100, bottom 11.0 m
	// well.why.no-layer
}
