package storetest

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"

	"github.com/google/uuid"
	"github.com/paulmach/orb"
)

// ID is the id of the i-th record of a test.
func ID(i int) string {
	return uuid.NewSHA1(uuid.NameSpaceURL, fmt.Appendf(nil, "record/%d", i)).String()
}

// FullBore is a bore with every field filled, in the invented region.
func FullBore(i int) geo.Bore {
	return geo.Bore{
		ID: geo.BoreID(ID(i)), Code: fmt.Sprintf("GW-%03d", i), Name: "by the school", Place: "Ñandú d’Été",
		VillageID: geo.VillageID(ID(1000 + i)),
		Position:  geo.Some(placed(0.1+float64(i%1000)/100, -0.2)),
		Ground:    geo.Some(geo.Elevation{M: 312.45, Datum: "EGM96", Source: "gps"}),
		Started:   geo.Some(geo.Date{Year: 2011, Month: 3}), Completed: geo.Some(geo.Date{Year: 2011, Month: 3, Day: 9}),
		Method: "hand-auger", Outcome: geo.Producing,
		DepthM: geo.Some(17.25), RefusalM: geo.Some(17.2), YieldLPS: geo.Some(0.0),
		Driller: "crew 2", Remarks: "first line\nsecond line", Cost: geo.Some(geo.Money{Amount: 812.5, Currency: "XOF"}),
		Layers: []geo.Layer{
			{TopM: 0, BaseM: 0.7, Words: "sol noir", Class: soil.Topsoil, Confidence: 0.9, Colour: "noir", Hardness: "mou", MinutesPerM: geo.Some(3.5)},
			{TopM: 0.7, BaseM: 9.1, Words: "areia fina argilosa", Class: soil.Sand, Grade: soil.Fine, Clayey: true, Confidence: 0.6},
			{TopM: 9.1, BaseM: 17.25, Class: soil.Unknown},
		},
		Strikes: []geo.Strike{{DepthM: 8.4, Words: "damp"}, {DepthM: 11}},
		Levels: []geo.Level{
			{State: geo.LevelFlowing},
			{State: geo.LevelDryTo, DepthM: geo.Some(6.0), On: geo.Some(geo.Date{Year: 2010})},
			{State: geo.LevelRest, DepthM: geo.Some(-0.3), On: geo.Some(geo.Date{Year: 2011, Month: 3, Day: 9}), ReferenceM: geo.Some(0.5), Words: "0.2 below collar"},
		},
		Pipes: []geo.Pipe{
			{Kind: geo.Casing, TopM: 0, BaseM: 12, DiameterMM: geo.Some(125.0), Material: "PVC"},
			{Kind: geo.Screen, TopM: 12, BaseM: 16, DiameterMM: geo.Some(125.0), SlotMM: geo.Some(0.75)},
		},
		Fills: []geo.Fill{{Kind: geo.Grout, TopM: 0, BaseM: 3}, {Kind: geo.Pack, TopM: 9, BaseM: 17}},
		Tests: []geo.PumpTest{
			{
				Kind: geo.ConstantRate, On: geo.Some(geo.Date{Year: 2011, Month: 3, Day: 10}), RateLPS: geo.Some(0.31), Hours: geo.Some(4.0),
				RestM: geo.Some(7.9), PumpingM: geo.Some(10.4), Remarks: "steady",
				Readings: []geo.TestReading{{Minutes: 0, DepthM: 7.9}, {Minutes: 1, DepthM: 8.6, RateLPS: geo.Some(0.3)}},
			},
			{Kind: geo.BailerTest, BailL: geo.Some(40.0), HalfMin: geo.Some(2.0), ThreeQMin: geo.Some(5.5), Readings: []geo.TestReading{{Minutes: 2, DepthM: 9}}},
		},
		Samples: []geo.Sample{
			{Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", Value: geo.Some(12.5), On: geo.Some(geo.Date{Year: 2011}), Laboratory: "district"},
			{Analyte: "arsenic", Unit: "ug/L", DetectionLimit: geo.Some(10.0)},
			{Analyte: "fluoride", Unit: "mg/L", On: geo.Some(geo.Date{Year: 2012}), WaivedBy: "A. Diallo", Reason: "no fluoride found in forty bores around"},
		},
		Source: geo.Provenance{File: "bores.csv", Row: i + 1, By: "district office", Licence: "CC-BY-4.0", Fields: map[string]string{"depthM": "report p. 4"}},
	}
}

func placed(lon, lat float64) coord.Reading {
	return coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}, AsRead: "0 06 00 E 0 12 00 S", CRS: "Minna", Operation: "EPSG:1168", PrecisionM: 15.25}
}

// BareBore is a bore of which nearly nothing is known.
func BareBore(i int) geo.Bore {
	return geo.Bore{ID: geo.BoreID(ID(i)), Method: geo.MethodUnknown, Outcome: geo.OutcomeUnknown}
}

func village(i int, name string) geo.Village {
	return geo.Village{ID: geo.VillageID(ID(i)), Name: name, Position: placed(0.5, 0.5), People: geo.Some(0), Source: geo.Provenance{By: "census"}}
}

func waterPoint(i int) geo.WaterPoint {
	return geo.WaterPoint{
		ID: geo.WaterPointID(ID(i)), Name: "market", Kind: geo.DugWell, Position: placed(-0.5, 0.25),
		DepthM: geo.Some(8.0), Works: geo.Some(false), Users: geo.Some(120), DryMonths: geo.Some(geo.Months(time.March, time.April)),
		Visits: []geo.Visit{
			{On: geo.Date{Year: 2019, Month: 4}, Works: geo.Some(false), Words: "dry"},
			{On: geo.Date{Year: 2020, Month: 1, Day: 5}, Works: geo.Some(true), LevelM: geo.Some(6.1)},
		},
	}
}

func boundary(i int) geo.Boundary {
	outer := orb.Ring{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}}
	hole := orb.Ring{{0, 0}, {0, 0.5}, {0.5, 0.5}, {0, 0}}
	return geo.Boundary{ID: geo.PlaceID(ID(i)), Name: "Nulle", Kind: "district", Shape: orb.MultiPolygon{{outer, hole}, {{{2, 2}, {3, 2}, {3, 3}, {2, 2}}}}}
}

func river(i int) geo.River {
	return geo.River{ID: geo.PlaceID(ID(i)), Name: "Zero", Perennial: geo.Some(false), Line: orb.LineString{{0, 0}, {0.1, math.Nextafter(0.1, 1)}, {0.2, 0.3}}}
}

// randomBore draws awkward numbers: every bit of them must come back.
func randomBore(rng *rand.Rand, i int) geo.Bore {
	b := BareBore(i)
	b.Position = geo.Some(placed(rng.Float64()*360-180, rng.Float64()*180-90))
	top := 0.0
	for range rng.IntN(12) {
		base := top + math.Exp(rng.Float64()*8-6)
		b.Layers = append(b.Layers, geo.Layer{TopM: top, BaseM: base, Class: soil.Class(rng.IntN(soil.Count + 1)), Confidence: rng.Float64()})
		top = base
	}
	if rng.IntN(2) == 0 {
		b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(math.Exp(rng.Float64()*30 - 25))}}
	}
	return b
}

// same compares two records by all that is written of them.
func same(t *testing.T, got, want any) {
	t.Helper()
	g, err := json.MarshalIndent(got, "", " ")
	must(t, err)
	w, err := json.MarshalIndent(want, "", " ")
	must(t, err)
	if string(g) != string(w) {
		t.Fatalf("got %s\nwant %s", g, w)
	}
}
