package geo_test

import (
	"math"
	"testing"
	"time"

	"github.com/google/uuid"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

var here = coord.Reading{Pos: coord.LonLat{Lon: 0.12, Lat: -0.3}, PrecisionM: 5}

func village() geo.Village {
	return geo.Village{ID: someID, Name: "Upper ford", Position: here, People: geo.Some(0)}
}

func TestNewVillage(t *testing.T) {
	if got, err := geo.NewVillage(village()); err != nil || got.Name != "Upper ford" || !got.People.Known() {
		t.Errorf("%+v, %v", got, err)
	}
	for name, c := range map[string]struct {
		spoil func(*geo.Village)
		names string
	}{
		"no id":           {func(v *geo.Village) { v.ID = "" }, "id"},
		"no name":         {func(v *geo.Village) { v.Name = "" }, "name"},
		"nowhere":         {func(v *geo.Village) { v.Position.Pos.Lat = 91 }, "position: longitude"},
		"fewer than none": {func(v *geo.Village) { v.People = geo.Some(-1) }, "people"},
	} {
		t.Run(name, func(t *testing.T) {
			v := village()
			c.spoil(&v)
			_, err := geo.NewVillage(v)
			refused(t, err, "geo.NewVillage: invalid: "+c.names+": ", "geo.NewVillage: invalid: "+c.names+" ")
		})
	}
}

func waterPoint() geo.WaterPoint {
	return geo.WaterPoint{
		ID: someID, Kind: geo.DugWell, Position: here, DepthM: geo.Some(8.5), Users: geo.Some(120),
		DryMonths: geo.Some(geo.Months(time.March)),
		Visits: []geo.Visit{
			{On: geo.Date{Year: 2012, Month: 3}, Words: "second"},
			{On: geo.Date{Year: 2011}, LevelM: geo.Some(6.2), Words: "first"},
		},
	}
}

func TestNewWaterPoint(t *testing.T) {
	got, err := geo.NewWaterPoint(waterPoint())
	if err != nil {
		t.Fatal(err)
	}
	if got.Visits[0].Words != "first" || got.Visits[1].Words != "second" {
		t.Errorf("visits are %v", got.Visits)
	}
	least, err := geo.NewWaterPoint(geo.WaterPoint{ID: someID, Position: here})
	if err != nil || least.Kind != geo.PointUnknown || least.DryMonths.Known() {
		t.Errorf("a point of which only the place is known: %+v, %v", least, err)
	}
	for name, c := range map[string]struct {
		spoil func(*geo.WaterPoint)
		names string
	}{
		"no id":              {func(w *geo.WaterPoint) { w.ID = "7" }, "id"},
		"kind unheard of":    {func(w *geo.WaterPoint) { w.Kind = "lake" }, "kind"},
		"nowhere":            {func(w *geo.WaterPoint) { w.Position.Pos.Lon = math.NaN() }, "position: longitude"},
		"depth negative":     {func(w *geo.WaterPoint) { w.DepthM = geo.Some(-1.0) }, "depthM"},
		"fewer than no user": {func(w *geo.WaterPoint) { w.Users = geo.Some(-1) }, "users"},
		"visit on 31 June":   {func(w *geo.WaterPoint) { w.Visits[1].On = geo.Date{Year: 2020, Month: 6, Day: 31} }, "visit 2: on"},
		"visit level NaN":    {func(w *geo.WaterPoint) { w.Visits[1].LevelM = geo.Some(math.NaN()) }, "visit 2: levelM"},
	} {
		t.Run(name, func(t *testing.T) {
			w := waterPoint()
			c.spoil(&w)
			_, err := geo.NewWaterPoint(w)
			refused(t, err, "geo.NewWaterPoint: invalid: "+c.names+": ", "geo.NewWaterPoint: invalid: "+c.names+" ")
		})
	}
}

// New ids are random UUIDs: version 4 of RFC 9562, section 5.4, and never the same twice.
func TestNewIDs(t *testing.T) {
	seen := map[string]bool{}
	for range 100 {
		for _, id := range []string{
			string(geo.NewBoreID()), string(geo.NewVillageID()), string(geo.NewWaterPointID()), string(geo.NewPlaceID()),
		} {
			parsed, err := uuid.Parse(id)
			if err != nil || parsed.Version() != 4 || parsed.Variant() != uuid.RFC4122 || len(id) != 36 || seen[id] {
				t.Errorf("id %q: version %v, %v, seen before: %v", id, parsed.Version(), err, seen[id])
			}
			seen[id] = true
		}
	}
}
