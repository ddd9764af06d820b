package geo_test

import (
	"encoding/json"
	"flag"
	"os"
	"regexp"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

var update = flag.Bool("update", false, "write the golden files anew")

// fullBore has every field of the record; what it tells is invented.
func fullBore() geo.Bore {
	some := geo.Some[float64]
	day := func(y, m, d int) geo.Opt[geo.Date] { return geo.Some(geo.Date{Year: y, Month: m, Day: d}) }
	return geo.Bore{
		ID: someID, Code: "K-7", Name: "School", Place: "Upper ford", VillageID: "0b0b0b0b-0000-4000-8000-000000000002",
		Position: geo.Some(coord.Reading{
			Pos: coord.LonLat{Lon: 0.1234567, Lat: -0.3}, AsRead: "0.1234567 -0.3",
			CRS: "WGS 84", Operation: "none needed", PrecisionM: 5.5,
		}),
		Ground:  geo.Some(geo.Elevation{M: 212.5, Datum: "EGM96", Source: "gps"}),
		Started: day(2011, 3, 1), Completed: day(2011, 3, 0),
		Method: "sludging", Outcome: geo.Producing, DepthM: some(14), RefusalM: some(14), YieldLPS: some(0),
		Driller: "crew 2", Remarks: "pumped clear", Cost: geo.Some(geo.Money{Amount: 420, Currency: "XTS"}),
		Layers: []geo.Layer{
			{TopM: 0, BaseM: 2, Words: "stiff red clay", Class: soil.Clay, Confidence: 1, Colour: "red", Hardness: "stiff", MinutesPerM: some(12)},
			{TopM: 2, BaseM: 14, Words: "coarse sand, some clay", Class: soil.Sand, Grade: soil.Coarse, Clayey: true, Confidence: 0.8},
		},
		Strikes: []geo.Strike{{DepthM: 5, Words: "seeping"}},
		Levels: []geo.Level{
			{State: geo.LevelRest, DepthM: some(4.2), On: day(2011, 3, 2), ReferenceM: some(0.3), Words: "4.5 from rim"},
			{State: geo.LevelFlowing, On: day(2012, 9, 0)},
		},
		Pipes: []geo.Pipe{{Kind: geo.Screen, TopM: 10, BaseM: 13, DiameterMM: some(110), SlotMM: some(0.5), Material: "PVC"}},
		Fills: []geo.Fill{{Kind: geo.Pack, TopM: 8, BaseM: 14}},
		Tests: []geo.PumpTest{{
			Kind: geo.BailerTest, On: day(2011, 3, 3), RateLPS: some(0.3), Hours: some(2), RestM: some(4.2), PumpingM: some(6.1),
			Readings: []geo.TestReading{{Minutes: 0, DepthM: 4.2}, {Minutes: 10, DepthM: 5, RateLPS: some(0.3)}},
			Remarks:  "clear", BailL: some(40), HalfMin: some(3), ThreeQMin: some(8),
		}},
		Samples: []geo.Sample{
			{Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", DetectionLimit: some(0.5), On: day(2011, 4, 1), Laboratory: "regional"},
			{Analyte: "ec", Unit: "uS/cm", Value: some(310)},
		},
		Source: geo.Provenance{Batch: "b1", File: "log.csv", Row: 7, By: "office", Licence: "CC0-1.0", Fields: map[string]string{"depthM": "phone"}},
	}
}

func sameJSON(t *testing.T, got, want any) {
	t.Helper()
	g, err := json.Marshal(got)
	if err != nil {
		t.Fatal(err)
	}
	w, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	if string(g) != string(w) {
		t.Errorf("got  %s\nwant %s", g, w)
	}
}

// The form that programs read. A change here is a change for them all: say so in the
// release notes.
func TestBoreJSON(t *testing.T) {
	const golden = "testdata/bore.json"
	got, err := json.MarshalIndent(fullBore(), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	got = append(got, '\n')
	if *update {
		if err := os.WriteFile(golden, got, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Errorf("a full bore is written as\n%s", got)
	}
	var back geo.Bore
	if err := json.Unmarshal(want, &back); err != nil {
		t.Fatal(err)
	}
	sameJSON(t, back, fullBore())
	if y, known := back.YieldLPS.Get(); !known || y != 0 {
		t.Error("a yield of 0 comes back as missing")
	}
	if upper := regexp.MustCompile(`"[A-Z]\w*":`).FindString(string(got)); upper != "" {
		t.Errorf("the key %s is written unlike the others", upper)
	}
}

// What is not known is not there: no zeros, no empty lists.
func TestBoreJSONLeast(t *testing.T) {
	b, err := geo.NewBore(geo.Bore{ID: someID})
	if err != nil {
		t.Fatal(err)
	}
	got, err := json.Marshal(b)
	if want := `{"id":"` + someID + `","method":"unknown","outcome":"unknown","source":{}}`; err != nil || string(got) != want {
		t.Errorf("%s, %v; want %s", got, err, want)
	}
}

func TestWaterPointJSON(t *testing.T) {
	w := waterPoint()
	w.DryMonths = geo.Some(geo.MonthSet(0)) // known: never dry
	data, err := json.Marshal(w)
	if err != nil {
		t.Fatal(err)
	}
	var back geo.WaterPoint
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	sameJSON(t, back, w)
	if m, known := back.DryMonths.Get(); !known || m != 0 {
		t.Errorf("never dry comes back as %v, known %v, from %s", m, known, data)
	}
}
