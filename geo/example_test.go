package geo_test

import (
	"encoding/json"
	"fmt"

	"waterstrike/geo"
)

func ExampleNewBore() {
	_, err := geo.NewBore(geo.Bore{
		ID:     "0b0b0b0b-0000-4000-8000-000000000001",
		Layers: []geo.Layer{{TopM: 0, BaseM: 3, Confidence: 1}, {TopM: 9, BaseM: 3, Confidence: 1}},
	})
	fmt.Println(geo.KindOf(err))
	fmt.Println(err)
	// Output:
	// invalid
	// geo.NewBore: invalid: layer 2: topM: 9 m is not above baseM 3 m
}

func ExampleArg_MarshalJSON() {
	out, err := json.Marshal(geo.Say("reason.water-too-deep", geo.With("depth", geo.Metres(7.2))))
	fmt.Println(string(out), err)
	// Output:
	// {"code":"reason.water-too-deep","args":[{"name":"depth","type":"metres","value":7.2}]} <nil>
}

func ExampleJudge() {
	s := geo.Sample{Analyte: "nitrate", Basis: "N", Unit: "mg/L", Value: geo.Some(12.0)}
	verdict, limit := geo.Judge(s)
	fmt.Println(verdict, limit.High.Or(0), limit.Kind, limit.Year.Or(0))
	// Output: above 50 health 2022
}
