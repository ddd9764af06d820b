package intake_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"waterstrike/geo"
)

// A level that nobody wrote the day of is still the best that is known of a dug well: it
// must not be lost for want of a date.
func TestLevelWithoutADayIsKept(t *testing.T) {
	m := load(t, `{"dataset": "wells", "tables": [{"file": "wells.csv", "kind": "water-points", "key": ["no"],
	  "position": {"kind": "lon-lat", "lon": "lon", "lat": "lat"},
	  "fields": {"level": {"column": "level", "unit": "m"}, "visited": {"column": "on"}, "depth": {"column": "depth", "unit": "m"}}}]}`)
	bag, _ := readAll(t, m, files("wells.csv", "no,lon,lat,depth,level,on\nD-1,0.1,0.2,9,7.5,\nD-2,0.1,0.3,8,,\nD-3,0.1,0.4,8,6,2019-03-02\n"))
	visits := map[float64]geo.Date{}
	for _, w := range bag.WaterPoints {
		for _, v := range w.Visits {
			depth, _ := v.LevelM.Get()
			visits[depth] = v.On
		}
	}
	want := map[float64]geo.Date{7.5: {}, 6: {Year: 2019, Month: 3, Day: 2}}
	if len(visits) != len(want) || visits[7.5] != want[7.5] || visits[6] != want[6] {
		t.Errorf("visits by level: %v, want %v", visits, want)
	}
}

// A water point without a position is put at the village it is named after, in words of
// its own mapping or among those of the same intake; one that cannot be placed is listed
// with what to do.
func TestWaterPointsAreMatchedToVillages(t *testing.T) {
	m := load(t, `{"dataset": "wells", "tables": [
	  {"file": "wells.csv", "kind": "water-points", "key": ["no"], "position": {"kind": "lon-lat", "lon": "lon", "lat": "lat"},
	   "fields": {"place": {"column": "place"}, "name": {"column": "name"}}},
	  {"file": "places.csv", "kind": "villages", "key": ["name"], "position": {"kind": "lon-lat", "lon": "lon", "lat": "lat"},
	   "fields": {"name": {"column": "name"}}}]}`)
	bag, got := readAll(t, m, files(
		"places.csv", "name,lon,lat\nZulmar,0.3,0.4\nBora,0.5,0.6\nbora,,\nNovrid,north,\n",
		"wells.csv", "no,name,place,lon,lat\n1,School,Zulmar,,\n2,Zumlar,,0.31,south\n3,Old,Elsewhere,,\n4,,,,\n5,Own,Bora,0.51,0.61\n"))
	if len(bag.WaterPoints) != 3 || got.Rejected != 4 {
		t.Fatalf("%+v\n%v", got, bag.Issues)
	}
	first, second, own := bag.WaterPoints[0], bag.WaterPoints[1], bag.WaterPoints[2]
	if first.Name != "School, Zulmar" || first.Position.Pos.Lon != 0.3 || first.Position.AsRead != "Zulmar" || first.Position.PrecisionM < 1000 {
		t.Errorf("%+v", first)
	}
	if second.Position.Pos.Lat != 0.4 || own.Position.Pos.Lon != 0.51 {
		t.Errorf("%+v %+v", second, own)
	}
	said := map[string][]string{}
	for _, i := range bag.Issues {
		where := fmt.Sprintf("%s %d", i.File, i.Row)
		said[where] = append(said[where], string(i.Severity)+" "+i.Message.String())
	}
	for where, want := range map[string]string{
		"wells.csv 1":  "doubt issue.placed-at-village value=Zulmar village=Zulmar n=100",
		"wells.csv 2":  "doubt issue.placed-at-village value=Zumlar village=Zulmar n=90",
		"wells.csv 3":  "rejected issue.no-such-village field=place value=Elsewhere",
		"wells.csv 4":  "rejected issue.missing-position field=lon, lat value=",
		"places.csv 3": "rejected issue.unplaced-village value=bora village=Bora n=100",
		"places.csv 4": "rejected issue.missing-position field=lon, lat value=north",
	} {
		if !slices.Contains(said[where], want) {
			t.Errorf("%s: %q, want %q", where, said[where], want)
		}
	}
	if len(said["wells.csv 5"]) != 0 {
		t.Errorf("a point with a position of its own: %q", said["wells.csv 5"])
	}
}

// Digits that no receiver knows do not make a position better than a receiver is; a data
// set of surveyed positions says so, and so does a column of its own.
func TestPositionsAreNoBetterThanTheirReceiver(t *testing.T) {
	const rows = "no,lon,lat,off\n1,0.123456789,0.5,\n2,0.123456789,0.123456789,\n3,0.123456789,0.123456789,0.02\n"
	for at, want := range map[string][3]float64{
		``:                  {5566, 5, 5},
		`, "atBestM": 0.5`:  {5566, 0.5, 0.5},
		`, "atBestM": 1e-4`: {5566, 1e-4, 1e-4},
		`, "precision": {"column": "off", "unit": "m"}`: {5566, 5, 0.02},
	} {
		m := load(t, `{"dataset": "d", "tables": [{"file": "b.csv", "kind": "bores", "key": ["no"],
		  "position": {"kind": "lon-lat", "lon": "lon", "lat": "lat"`+at+`}, "fields": {"code": {"column": "no"}}}]}`)
		bag, _ := readAll(t, m, files("b.csv", rows))
		for i, b := range bag.Bores {
			got, _ := b.Position.Get()
			if math.Abs(got.PrecisionM-want[i]) > 1e-3*want[i] { // half a digit by 111 320 m a degree
				t.Errorf("%s, row %d: %g m, want %g", at, i+1, got.PrecisionM, want[i])
			}
		}
	}
}
