package index_test

import (
	"fmt"

	"waterstrike/geo/coord"
	"waterstrike/geo/index"
)

func ExampleIndex_Nearest() {
	ix, err := index.New([]index.Entry{
		{ID: "school", Pos: coord.LonLat{Lon: 0.101, Lat: 0.200}},
		{ID: "market", Pos: coord.LonLat{Lon: 0.100, Lat: 0.203}},
		{ID: "mill", Pos: coord.LonLat{Lon: 0.150, Lat: 0.250}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, hit := range ix.Nearest(coord.LonLat{Lon: 0.1, Lat: 0.2}, 2, nil) {
		fmt.Printf("%s %.0f m\n", hit.ID, hit.DistanceM)
	}
	// Output:
	// school 111 m
	// market 332 m
}
