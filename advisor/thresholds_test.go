package advisor_test

import (
	"errors"
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

// A file of the rules folder that nobody reads is told, not lost; notes that are no rules may
// lie there.
func TestMisspeltRulesFile(t *testing.T) {
	_, err := advisor.RulesFromFolder(fstest.MapFS{"wells.json": {Data: []byte("{}")}})
	var f *geo.Error
	if !errors.As(err, &f) || f.Message.Code != "rules.unknown-file" || !strings.Contains(f.Message.String(), "rules/wells.json") {
		t.Errorf("wells.json: %v", err)
	}
	if _, err := advisor.RulesFromFolder(fstest.MapFS{"README.md": {Data: []byte("ours")}, "standards.json": {Data: []byte("[]")}}); err != nil {
		t.Errorf("notes and standards: %v", err)
	}
	if _, err := advisor.RulesFromFolder(fstest.MapFS{"well.json": {Data: []byte("[]")}}); !errors.As(err, &f) || f.Message.Code != "rules.not-an-object" {
		t.Errorf("a list for an object: %v", err)
	}
	if _, err := advisor.RulesFromFolder(fstest.MapFS{"pumps.json": {Data: []byte(`[{"code":"suction","liftM":{"value":11,"mark":"own"}}]`)}}); !errors.As(err, &f) || f.Message.Code != "rules.outside" {
		t.Errorf("suction of 11 m, more than the air carries: %v", err)
	}
}
