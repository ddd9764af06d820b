package publish_test

import (
	"context"
	"fmt"
	"os"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/publish"
	"waterstrike/geo/soil"
)

func ExampleBoresGeoJSON() {
	src := ground{bores: []geo.Bore{{
		ID: "00000000-0000-4000-8000-000000000001", Code: "K-7",
		Position: geo.Some(reading(0.12345678, -0.2)), Method: "sludging", Outcome: geo.Dry, DepthM: geo.Some(14.5),
	}}}
	if err := publish.BoresGeoJSON(context.Background(), os.Stdout, src); err != nil {
		fmt.Println(err)
	}
	// Output:
	// {"type":"FeatureCollection","features":[
	// {"type":"Feature","id":"00000000-0000-4000-8000-000000000001","geometry":{"type":"Point","coordinates":[0.12345678,-0.2]},"properties":{"code":"K-7","as_read":"-0.1, 0.2","crs":"WGS 84","precision_m":5,"method":"sludging","outcome":"dry","depth_m":14.5}}
	// ]}
}

func ExampleCSVFiles() {
	src := ground{bores: []geo.Bore{{
		ID: "00000000-0000-4000-8000-000000000001", Code: "K-7",
		Layers: []geo.Layer{{TopM: 0, BaseM: 2.5, Words: "- red clay, dry", Class: soil.Clay, Confidence: 1}},
	}}}
	var out strings.Builder
	for _, f := range publish.CSVFiles() {
		if f.Name != "layers.csv" {
			continue
		}
		if err := f.Write(context.Background(), &out, src); err != nil {
			fmt.Println(err)
		}
	}
	fmt.Print(strings.ReplaceAll(out.String(), "\r\n", "\n"))
	// Output:
	// bore_id,bore_code,top_m,base_m,words,class,grade,clayey,confidence,colour,hardness,minutes_per_m
	// 00000000-0000-4000-8000-000000000001,K-7,0,2.5,"'- red clay, dry",clay,,false,1,,,
}
