package publish

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"

	"waterstrike/geo/intake"
)

// Every table of an export is known for one by its columns alone; a table of others is not.
func TestOwnColumns(t *testing.T) {
	for _, x := range tables() {
		var names []string
		for _, h := range x.heads {
			names = append(names, h.name)
		}
		if !Own(names) {
			t.Errorf("%s is not known by its columns %q", x.name, names)
		}
		if len(names) > 3 && Own(names[1:]) && x.heads[0].name != lonColumn {
			t.Errorf("%s is known without %s", x.name, names[0])
		}
	}
	if Own([]string{"Code", "Longitude", "Latitude", "Depth"}) {
		t.Error("a table of others passes for an export")
	}
}

// meant is what the columns of an export mean to whom nobody told that it is one; those of
// origin, precision and code lists have no field in a mapping and are read by [Read] alone.
var meant = map[string]map[string]string{
	"bores": {
		"id": "code", "place": "place", "lon_deg": "lon", "lat_deg": "lat", "ground_m": "ground", "started": "started", "completed": "completed",
		"method": "method", "outcome": "outcome", "depth_m": "depth", "refusal_m": "refusal", "yield_lps": "yield", "driller": "driller", "remarks": "remarks", "name": "name",
	},
	"layers":       {"bore_id": "code", "top_m": "top", "base_m": "base", "words": "words"},
	"villages":     {"id": "code", "name": "place", "lon_deg": "lon", "lat_deg": "lat", "people": "people"},
	"water_points": {"id": "code", "name": "name", "kind": "sort", "lon_deg": "lon", "lat_deg": "lat", "depth_m": "depth", "works": "works", "users": "users", "dry_months": "dry"},
}

// cells are what stands in them: three rows, each different where rows are told apart.
var cells = map[string][3]string{
	"id": {"a-1", "a-2", "a-3"}, "bore_id": {"a-1", "a-2", "a-3"}, "lon_deg": {"0.1", "0.2", "0.3"}, "lat_deg": {"0.1", "0.2", "0.3"}, "people": {"100", "220", "340"},
	"name": {"Upper well", "Lower well", "Middle well"}, "place": {"Aba", "Bela", "Cado"}, "kind": {"tube-well", "dug-well", "spring"}, "works": {"true", "false", "true"},
	"users": {"20", "30", "40"}, "dry_months": {"2 3", "4", "3"}, "depth_m": {"12.5", "8", "21"}, "refusal_m": {"13", "9", "22"}, "ground_m": {"312", "305", "299"},
	"started": {"2020-01-02", "2020-02-03", "2021-03-04"}, "completed": {"2020-01-05", "2020-02-06", "2021-03-07"}, "method": {"auger", "percussion", "auger"},
	"outcome": {"producing", "dry", "refused"}, "yield_lps": {"0.3", "0.2", "0.25"}, "driller": {"A. Diallo", "B. Sow", "A. Diallo"}, "remarks": {"clear", "cloudy", "none"},
	"top_m": {"0", "1", "0"}, "base_m": {"1", "4", "2"}, "words": {"clay", "sand", "clay"},
}

// Columns of an export that a mapping has a field for are known by their names.
func TestExportColumnsAreProposed(t *testing.T) {
	for _, x := range tables() {
		want, is := meant[x.name]
		if !is {
			continue
		}
		var rows [4][]string
		for _, h := range x.heads {
			rows[0] = append(rows[0], h.name)
			for i := range 3 {
				rows[i+1] = append(rows[i+1], cells[h.name][i])
			}
		}
		var text strings.Builder
		for _, r := range rows {
			text.WriteString(strings.Join(r, ",") + "\n")
		}
		name := x.name + ".csv"
		_, report, err := intake.Propose(context.Background(), fstest.MapFS{name: {Data: []byte(text.String())}}, []string{name})
		if len(report.Files) != 1 || report.Files[0].Kind == "" && x.name != "layers" { // layers alone have no bores
			t.Errorf("%s: %v, %+v", x.name, err, report)
			continue
		}
		got := map[string]string{}
		for _, c := range report.Files[0].Columns {
			got[c.Column] = c.Means
		}
		for column, field := range want {
			if got[column] != field {
				t.Errorf("%s: %s is taken for %q, want %q", x.name, column, got[column], field)
			}
		}
	}
}
