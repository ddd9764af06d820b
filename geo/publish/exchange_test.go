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

// One row a dated visit, with the exchange's words; what lacks something that it asks for is
// counted. Its guide to sharing data (2021) asks for position, day, whether water was there,
// who says so, and kind of source or of pump. All eight names stand with the # in a table
// model drawn from a published copy of its data (Django models of a Swaziland copy, where
// longitude is #long_deg) and in audits and scripts that read later copies (#lat_deg, #lon_deg,
// #status_id, #water_source, #status among them). Yes, No, Unknown: the cleaning script of the
// weekly open data set "Water Sources", 2021-05-04, whose dictionary of columns repeats the
// standard's own: #status_id is whether any water is available on the day of the visit, #status
// the physical condition in words. Words for sources: the categories of copies of 2025 and 2026;
// that set has the whole name of surface water. The standard's own text was not to be had: what
// it means #activity_id to hold is from memory.
func TestExchange(t *testing.T) {
	at := coord.Reading{Pos: coord.LonLat{Lon: 0.25, Lat: -0.5}}
	day := geo.Date{Year: 2024, Month: 3, Day: 9}
	g := ground{points: []geo.WaterPoint{
		{ID: "a", Kind: geo.TubeWell, Position: at, Source: geo.Provenance{By: "an office", File: "x.csv"}, Visits: []geo.Visit{
			{On: day, Works: geo.Some(true), Words: "=good, clear"}, {On: geo.Date{Year: 2025, Month: 1, Day: 2}, Works: geo.Some(false)}, {On: geo.Date{Year: 2025}}, {Works: geo.Some(true)},
		}},
		{ID: "b", Kind: geo.Spring, Position: at, Source: geo.Provenance{File: "x.csv"}, Visits: []geo.Visit{{On: day}}},
		{ID: "c", Kind: geo.DugWell, Position: at, Works: geo.Some(true)},
		{ID: "d", Kind: geo.PointUnknown, Position: at, Source: geo.Provenance{File: "x.csv"}, Visits: []geo.Visit{{On: day}}},
		{ID: "e", Kind: geo.DugWell, Position: at, Visits: []geo.Visit{{On: day}}},
		{ID: "f", Kind: geo.DugWell, Position: at, Source: geo.Provenance{By: "an office"}, Visits: []geo.Visit{{On: day}}},
		{ID: "g", Kind: geo.OpenWater, Position: at, Source: geo.Provenance{By: "an office"}, Visits: []geo.Visit{{On: day}}},
		{ID: "h", Kind: geo.PipedPoint, Position: at, Source: geo.Provenance{By: "an office"}, Visits: []geo.Visit{{On: day}}},
	}}
	var out bytes.Buffer
	reports, left, err := publish.Exchange(context.Background(), &out, g)
	if err != nil || reports != 6 || left != 5 {
		t.Fatalf("%d rows, %d left out: %v", reports, left, err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"#lat_deg", "#lon_deg", "#report_date", "#status_id", "#status", "#source", "#water_source", "#activity_id"},
		{"-0.5", "0.25", "2024-03-09", "Yes", "'=good, clear", "an office", "Borehole/Tubewell", "a"},
		{"-0.5", "0.25", "2025-01-02", "No", "", "an office", "Borehole/Tubewell", "a"},
		{"-0.5", "0.25", "2024-03-09", "Unknown", "", "x.csv", "Undefined Spring", "b"},
		{"-0.5", "0.25", "2024-03-09", "Unknown", "", "an office", "Undefined Well", "f"},
		{"-0.5", "0.25", "2024-03-09", "Unknown", "", "an office", "Surface Water (River/Stream/Lake/Pond/Dam)", "g"},
		{"-0.5", "0.25", "2024-03-09", "Unknown", "", "an office", "Piped Water", "h"},
	}
	if fmt.Sprint(rows) != fmt.Sprint(want) {
		t.Errorf("%q\nwant %q", rows, want)
	}
	if _, _, err := publish.Exchange(context.Background(), failing{}, g); err == nil {
		t.Error("a full disk gave no error")
	}
}
