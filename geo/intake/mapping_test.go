package intake_test

import (
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// A mapping that is right; the cases below break one thing each.
const goodMapping = `{
  "dataset": "demo", "within": [-1, -1, 1, 1],
  "tables": [{
    "file": "bores.csv", "kind": "bores", "key": ["Code"],
    "position": {"kind": "lon-lat", "lon": "Lon", "lat": "Lat"},
    "fields": {
      "depth": {"column": "Depth", "unit": "m"},
      "completed": {"column": "Date", "dates": ["dmy"]},
      "outcome": {"column": "Result", "values": {"OK": "producing"}}
    }
  }]
}`

func TestLoadMappingNamesWhatIsWrong(t *testing.T) {
	tests := []struct {
		name, old, new string
		wants          []string // in the message
	}{
		{"not JSON", `"dataset"`, `dataset`, []string{"not JSON"}},
		{"unknown key", `"within"`, `"inside"`, []string{`"inside"`, "within", "dataset"}},
		{"unknown key of a table", `"kind": "bores"`, `"sort": "bores"`, []string{"tables[0]", `"sort"`, "kind", "delimiter"}},
		{"unknown key of a field", `"unit": "m"`, `"units": "m"`, []string{"tables[0].fields.depth", `"units"`, "unit"}},
		{"wrong type", `"dataset": "demo"`, `"dataset": 5`, []string{"dataset"}},
		{"no dataset", `"dataset": "demo"`, `"dataset": ""`, []string{"dataset"}},
		{"box", `[-1, -1, 1, 1]`, `[1, -1, -1, 1]`, []string{"within", "west"}},
		{"kind", `"kind": "bores"`, `"kind": "wells"`, []string{`"wells"`, "bores", "water-points"}},
		{"no file", `"bores.csv"`, `""`, []string{"file"}},
		{"no key", `["Code"]`, `[]`, []string{"key", "whole-row"}},
		{"format", `"key"`, `"format": "xml", "key"`, []string{`"xml"`, "csv"}},
		{"encoding", `"key"`, `"encoding": "ebcdic", "key"`, []string{`"ebcdic"`, "cp850", "windows-1252"}},
		{"decimal", `"key"`, `"decimal": ";", "key"`, []string{"decimal"}},
		{"delimiter", `"key"`, `"delimiter": ";;", "key"`, []string{"delimiter"}},
		{"when", `"key"`, `"when": {"column": "x"}, "key"`, []string{"when", "notIn"}},
		{"unknown field", `"depth"`, `"deepness"`, []string{`"deepness"`, "depth", "yield"}},
		{"no unit", `, "unit": "m"`, ``, []string{"fields.depth.unit", "ft", "cell"}},
		{"unknown unit", `"unit": "m"`, `"unit": "furlong"`, []string{`"furlong"`, "ft"}},
		{"date form", `["dmy"]`, `["day-month"]`, []string{`"day-month"`, "dmy", "serial"}},
		{"two-digit years", `["dmy"]`, `["dmy"], "yearsFrom": 50`, []string{"yearsFrom"}},
		{"dates on a depth", `"unit": "m"`, `"unit": "m", "dates": ["iso"]`, []string{"depth", "dates"}},
		{"max on a date", `["dmy"]`, `["dmy"], "max": 5`, []string{"completed", "max"}},
		{"unknown outcome", `"producing"`, `"good"`, []string{`"good"`, "producing", "dry"}},
		{"two meanings", `{"OK": "producing"}`, `{"OK": "producing", "ok": "dry"}`, []string{"ok", "producing", "dry"}},
		{"column and fixed", `"column": "Result"`, `"column": "Result", "fixed": "dry"`, []string{"outcome", "fixed"}},
		{"position kind", `"lon-lat", "lon"`, `"lonlat", "lon"`, []string{`"lonlat"`, "projected"}},
		{"position columns", `, "lat": "Lat"`, ``, []string{"position", "lat"}},
		{"grid", `"kind": "lon-lat", "lon": "Lon", "lat": "Lat"`, `"kind": "projected", "east": "E", "north": "N", "crs": "EPSG:1"`, []string{"crs"}},
		{"datum", `"lat": "Lat"`, `"lat": "Lat", "datum": "Mars"`, []string{"datum"}},
		{"precision unit", `"lat": "Lat"`, `"lat": "Lat", "precision": {"column": "P"}`, []string{"precision", "unit"}},
	}
	for _, tt := range tests {
		text := strings.Replace(goodMapping, tt.old, tt.new, 1)
		if text == goodMapping {
			t.Fatalf("%s: the case changes nothing", tt.name)
		}
		_, err := intake.LoadMapping(strings.NewReader(text))
		if geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: %v, want an invalid mapping", tt.name, err)
			continue
		}
		for _, want := range tt.wants {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %q does not name %q", tt.name, err, want)
			}
		}
	}
	if _, err := intake.LoadMapping(strings.NewReader(goodMapping)); err != nil {
		t.Errorf("the right mapping: %v", err)
	}
}

func TestPartTablesNeedTheirFields(t *testing.T) {
	for kind, want := range map[string]string{"layers": "base", "levels": "level", "pipes": "kind", "samples": "analyte", "villages": "name"} {
		text := `{"dataset": "d", "tables": [{"file": "x.csv", "kind": "` + kind + `", "key": ["k"],
			"fields": {}}]}`
		_, err := intake.LoadMapping(strings.NewReader(text))
		if kind == "layers" {
			want = "top"
		}
		if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v does not ask for %s", kind, err, want)
		}
	}
}

func FuzzLoadMapping(f *testing.F) {
	f.Add(goodMapping)
	f.Add(`{"tables": [[]], "dataset": {"a": null}}`)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<12 {
			return // longer than any mapping
		}
		m, err := intake.LoadMapping(strings.NewReader(text))
		if err == nil && (m.Dataset == "" || len(m.Tables) == 0) {
			t.Errorf("accepted without a data set or a table: %q", text)
		}
	})
}
