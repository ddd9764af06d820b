package coord_test

import (
	"fmt"

	"waterstrike/geo/coord"
)

func ExampleReadPair() {
	r, err := coord.ReadPair(`0°12'30"N, 0°24'15"E`, coord.UnknownOrder)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.6f %.6f, good to %.0f m\n", r.Pos.Lon, r.Pos.Lat, r.PrecisionM)

	_, err = coord.ReadPair("0.5 0.25", coord.UnknownOrder)
	fmt.Println(err)
	// Output:
	// 0.404167 0.208333, good to 15 m
	// coord: cannot read position "0.5 0.25": it can be read in more than one way; accepted: "5.5 N, 0.5 W", "5°30'N 0°30'W", "37N 442797 777230"; say the order where no letters tell it
}

func ExampleReadProjected() {
	crs, _ := coord.ParseProjection("UTM 31N")
	r, err := coord.ReadProjected("166 021.4", "55 282.0", crs)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.5f %.5f on %s, good to %.2f m\n", r.Pos.Lon, r.Pos.Lat, r.CRS, r.PrecisionM)
	// Output:
	// -0.00011 0.49946 on WGS 84 / UTM zone 31N, good to 0.05 m
}

func ExamplePlane() {
	village := coord.LonLat{Lon: 0.10, Lat: 0.20}
	bore := coord.LonLat{Lon: 0.13, Lat: 0.24}
	xy := coord.NewPlane(village).XY(bore)
	fmt.Printf("%.0f m east, %.0f m north, %.0f m away\n", xy.X, xy.Y, coord.DistanceM(village, bore))
	// Output:
	// 3340 m east, 4423 m north, 5542 m away
}
