package demoland_test

import (
	"fmt"
	"time"

	"waterstrike/geo/demoland"
)

func Example() {
	land := demoland.New(1)
	site := land.VillageSites(23, 1)[22]
	column := land.Column(site)
	fmt.Printf("%s, water at %.1f m at the normal low, %.1f m once in ten years\n",
		column.Setting, column.NormalLowM, column.DesignLowM)
	for _, layer := range column.Layers {
		fmt.Printf("%5.1f-%-5.1f %s\n", layer.TopM, layer.BaseM, layer.Unit)
	}
	auger := demoland.Crews()[0]
	hole := land.Drill(site, auger, time.Date(2019, 8, 2, 0, 0, 0, 0, time.UTC))
	fmt.Printf("%s, August: %s at %.1f m\n", auger.Method, hole.Outcome, hole.DepthM)
	fmt.Println("lasting:", land.Succeeds(site, demoland.HandPump(auger.Limits, auger.HoleMM)))
	// Output:
	// valley, water at 1.7 m at the normal low, 2.4 m once in ten years
	//   0.0-0.5   topsoil
	//   0.5-4.3   flood-clay
	//   4.3-7.6   confining-clay
	//   7.6-9.2   confined-sand
	//   9.2-11.3  coarse-lens
	//  11.3-14.6  coarse-lens
	//  14.6-15.2  coarse-lens
	//  15.2-20.8  saprolite
	//  20.8-23.7  grus
	//  23.7-29.4  broken-rock
	//  29.4-60.0  fresh-rock
	// auger, August: producing at 12.8 m
	// lasting: true
}
