package intake_test

import (
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
