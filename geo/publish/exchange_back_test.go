package publish_test

import (
	"bytes"
	"context"
	"testing"
	"testing/fstest"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
)

// What goes out for the exchange is read without a mapping when it comes back.
func TestExchangeComesBack(t *testing.T) {
	at := coord.Reading{Pos: coord.LonLat{Lon: 0.25, Lat: -0.5}}
	visits := []geo.Visit{{On: geo.Date{Year: 2024, Month: 3, Day: 9}, Works: geo.Some(true)}, {On: geo.Date{Year: 2025, Month: 1, Day: 2}, Works: geo.Some(false), Words: "pump broken"}}
	var g ground
	for i, kind := range geo.PointKinds() {
		at.Pos.Lon += 0.01
		g.points = append(g.points, geo.WaterPoint{ID: geo.WaterPointID("p" + string(rune('a'+i))), Kind: kind, Position: at, Source: geo.Provenance{By: "an office"}, Visits: visits})
	}
	var out bytes.Buffer
	if _, _, err := publish.Exchange(context.Background(), &out, g); err != nil {
		t.Fatal(err)
	}
	from := fstest.MapFS{"visits.csv": {Data: out.Bytes()}}
	m, _, err := intake.Propose(context.Background(), from, []string{"visits.csv"})
	if err != nil {
		t.Fatal(err)
	}
	got := &intake.Memory{}
	report, err := intake.Read(context.Background(), m, from, got, nil)
	if err != nil || report.Applied != 2*len(g.points) || len(got.WaterPoints) != len(g.points) || len(got.Issues) > 0 {
		t.Fatalf("%d of %d rows, %d points, %+v: %v", report.Applied, 2*len(g.points), len(got.WaterPoints), got.Issues, err)
	}
	for i, p := range got.WaterPoints {
		sent := g.points[i]
		if p.Kind != sent.Kind || p.Position.Pos != sent.Position.Pos || len(p.Visits) != 2 || p.Visits[0].On != visits[0].On || p.Visits[0].Works != visits[0].Works || p.Visits[1].Works != visits[1].Works {
			t.Errorf("%+v\nwent out as %+v", p, sent)
		}
	}
}
