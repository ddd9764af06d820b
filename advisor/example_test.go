package advisor_test

import (
	"context"
	"fmt"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

func Example() {
	src := &memory{seq: 1}
	for i := range 12 {
		src.bores = append(src.bores, geo.Bore{
			ID:       geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012x", i)),
			Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: float64(i%4) / 100, Lat: float64(i/4) / 100}}),
			Outcome:  geo.Producing,
			Layers: []geo.Layer{
				{TopM: 0, BaseM: 3, Class: soil.Clay, Confidence: 1},
				{TopM: 3, BaseM: 20, Class: soil.Sand, Grade: soil.Coarse, Confidence: 1},
			},
			Levels: []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(4 + float64(i%5)/10)}},
		})
	}
	snapshot, err := evidence.Load(context.Background(), src)
	if err != nil {
		fmt.Println(err)
		return
	}
	rules, err := advisor.DefaultRules()
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := advisor.New(context.Background(), snapshot, rules, "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	out, err := a.Advise(context.Background(), advisor.Question{At: coord.LonLat{Lon: 0.015, Lat: 0.011}, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Verdict.Code)
	for _, l := range out.Layers {
		fmt.Printf("from %g m %s\n", l.TopM, l.Class)
	}
	// Output:
	// verdict.go
	// from 0 m clay
	// from 3 m sand
}
