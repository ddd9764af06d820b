package coverage_test

import (
	"context"
	"fmt"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Who of two villages has water under a standard, on a day.
func ExampleLand_Count() {
	standards, err := coverage.Defaults()
	if err != nil {
		fmt.Println(err)
		return
	}
	sphere, _ := coverage.Find(standards, "sphere-2018")
	villages := []coverage.Village{
		{ID: "upper", At: coord.LonLat{Lon: 0.001}, People: geo.Some(420)},
		{ID: "lower", At: coord.LonLat{Lon: 0.003}, People: geo.Some(180)},
	}
	points := []coverage.Point{{
		ID: "pump", Kind: geo.TubeWell,
		Visits: []coverage.Visit{{On: geo.Date{Year: 2020}, Works: true}},
	}}
	land, err := coverage.Prepare(context.Background(), villages, points, sphere.WalkM)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := land.Count(coverage.Ask{Standard: sphere, On: geo.Date{Year: 2021, Month: 4, Day: 1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range c.Villages {
		fmt.Println(v.ID, v.Served, v.Unserved, v.Why)
	}
	// Output:
	// lower 80 100 coverage.full
	// upper 420 0
}
