package advisor_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"waterstrike/advisor"
	"waterstrike/geo"
)

// A programme's thresholds.json changes what it names; a wrong one is answered by file, field
// and value.
func TestThresholdsOfAProgramme(t *testing.T) {
	own := func(text string) fstest.MapFS { return fstest.MapFS{"thresholds.json": {Data: []byte(text)}} }
	usual, err := advisor.ThresholdsFromFolder(nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := advisor.ThresholdsFromFolder(own(`{"go": 0.8}`))
	if want := (advisor.Thresholds{Go: 0.8, Care: usual.Care, Effective: usual.Effective, Width: usual.Width}); err != nil || got != want {
		t.Errorf("thresholds %+v (%v), want %+v", got, err, want)
	}
	if rules, err := advisor.RulesFromFolder(own(`{"care": 0.5}`)); err != nil || rules.Thresholds.Care != 0.5 {
		t.Errorf("rules with thresholds %+v (%v)", rules.Thresholds, err)
	}
	for text, want := range map[string]string{
		`{"go": 1.2}`:           "field go, value 1.2",
		`{"care": 0.9}`:         "field care, value 0.9",
		`{"effective": 2.5}`:    "field effective, value 2.5",
		`{"effective": 0}`:      "field effective, value 0",
		`{"width": 0}`:          "field width, value 0",
		`{"goo": 0.5}`:          "goo",
		`{"go": "often"}`:       "go",
		`{"go": 0.5, "care": 0`: "unreadable",
	} {
		_, err := advisor.ThresholdsFromFolder(own(text))
		if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "rules/thresholds.json") {
			t.Errorf("%s: error %v, want one that names %q and the file", text, err, want)
		}
	}
}
