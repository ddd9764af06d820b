package publish_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/publish"
)

// One row a dated visit, with the exchange's words; what has no day is counted. All that the
// exchange asks for at least stands in a row: position, day, whether water came, who says so,
// kind of source (its guide to sharing data, 2021). #status_id, #source and #water_source were
// read in published copies of its data; the other names from memory.
func TestExchange(t *testing.T) {
	at := coord.Reading{Pos: coord.LonLat{Lon: 0.25, Lat: -0.5}}
	day := geo.Date{Year: 2024, Month: 3, Day: 9}
	g := ground{points: []geo.WaterPoint{
		{ID: "a", Kind: geo.TubeWell, Position: at, Source: geo.Provenance{By: "an office", File: "x.csv"}, Visits: []geo.Visit{
			{On: day, Works: geo.Some(true), Words: "=good, clear"}, {On: geo.Date{Year: 2025}, Works: geo.Some(false)}, {Works: geo.Some(true)},
		}},
		{ID: "b", Kind: geo.Spring, Position: at, Source: geo.Provenance{File: "x.csv"}, Visits: []geo.Visit{{On: day}}},
		{ID: "c", Kind: geo.DugWell, Position: at, Works: geo.Some(true)},
	}}
	var out bytes.Buffer
	reports, left, err := publish.Exchange(context.Background(), &out, g)
	if err != nil || reports != 3 || left != 2 {
		t.Fatalf("%d rows, %d left out: %v", reports, left, err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"#lat_deg", "#lon_deg", "#report_date", "#status_id", "#status", "#source", "#water_source", "#activity_id"},
		{"-0.5", "0.25", "2024-03-09", "Yes", "'=good, clear", "an office", "Borehole/Tubewell", "a"},
		{"-0.5", "0.25", "2025", "No", "", "an office", "Borehole/Tubewell", "a"},
		{"-0.5", "0.25", "2024-03-09", "Unknown", "", "x.csv", "Spring", "b"},
	}
	if fmt.Sprint(rows) != fmt.Sprint(want) {
		t.Errorf("%q\nwant %q", rows, want)
	}
	if _, _, err := publish.Exchange(context.Background(), failing{}, g); err == nil {
		t.Error("a full disk gave no error")
	}
}
