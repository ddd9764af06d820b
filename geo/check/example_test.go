package check_test

import (
	"fmt"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
)

func ExampleBore() {
	b := geo.Bore{
		ID: geo.NewBoreID(), Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: 0.1, Lat: 0.2}}),
		DepthM: geo.Some(12.0),
		Levels: []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(19.5)}},
	}
	for _, i := range check.Bore(b, geo.Date{Year: 2026, Month: 5, Day: 1}) {
		fmt.Println(i.Severity, i.Message)
	}
	// Output: doubt issue.level-under-bottom level=19.5 depth=12
}
