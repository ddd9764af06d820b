package publish_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"waterstrike/geo"
	"waterstrike/geo/publish"
)

func TestDCAT(t *testing.T) {
	d := publish.Dataset{
		ID: "urn:uuid:" + id(1), Title: "Invented bores", Language: "en", Publisher: "an office", Licence: "CC BY 4.0",
		Modified: geo.Date{Year: 2024, Month: 3}, Version: "417", Extent: orb.Bound{Min: orb.Point{-0.5, -0.25}, Max: orb.Point{0.5, 0.25}},
		Distributions: []publish.Distribution{{File: "bores.csv", Title: "table", MediaType: publish.CSVType, Bytes: 12}},
	}
	text, err := publish.DCAT(d)
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	// Every prefix that is used is declared (JSON-LD 1.1, section 3.2), and what DCAT calls for is there.
	declared := got["@context"].(map[string]any)
	for _, m := range regexp.MustCompile(`"([a-z]+):[A-Za-z]+"`).FindAllStringSubmatch(string(text), -1) {
		if declared[m[1]] == nil {
			t.Errorf("%s is used and not declared", m[0])
		}
	}
	for name, want := range map[string]string{
		"@type": "dcat:Dataset", "owl:versionInfo": "417", "dct:language": "en",
	} {
		if got[name] != want {
			t.Errorf("%s: %v, want %s", name, got[name], want)
		}
	}
	for _, want := range []string{
		`"@type": "xsd:gYearMonth"`, `"@value": "2024-03"`, `"POLYGON((-0.5 -0.25,0.5 -0.25,0.5 0.25,-0.5 0.25,-0.5 -0.25))"`, `"dcat:byteSize"`,
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
	least, err := publish.DCAT(publish.Dataset{ID: "x", Title: "y"})
	if err != nil || strings.Contains(string(least), "dct:spatial") || strings.Contains(string(least), "dct:license") {
		t.Errorf("what is not said: %s, %v", least, err)
	}
	for name, bad := range map[string]publish.Dataset{
		"no title": {ID: "x"}, "no ID": {Title: "y"},
		"off the globe": {ID: "x", Title: "y", Extent: orb.Bound{Min: orb.Point{170, 0}, Max: orb.Point{190, 1}}},
	} {
		if _, err := publish.DCAT(bad); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}
