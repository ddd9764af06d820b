package rule_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// sheet is a set of rules with one field of each kind.
type sheet struct {
	Seal   rule.Number            `json:"sealM"`
	Length rule.Range             `json:"lengthM"`
	Top    rule.Choice[float64]   `json:"topM"`
	Fluid  bool                   `json:"fluid"`
	Inner  inner                  `json:"inner"`
	Ground map[soil.Class]grounds `json:"ground"`
	Words  []string               `json:"words"`
	Hidden int                    `json:"-"`
}

type inner struct {
	Wall rule.Number `json:"wallMM"`
}

type grounds struct {
	rule.Basis
	Pace  string      `json:"pace"`
	Cross rule.Number `json:"crossM"`
}

const start = `{
  "sealM": {"value": 3, "source": "a code", "mark": "memory"},
  "lengthM": {"lo": 3, "hi": 6, "mark": "common-practice"},
  "topM": {"chosen": "two", "options": [
    {"code": "two", "value": 2, "mark": "common-practice"},
    {"code": "none", "value": 0, "source": "a manual", "mark": "published"}]},
  "fluid": true,
  "inner": {"wallMM": {"value": 5, "source": "a code", "mark": "doubtful"}},
  "ground": {"clay": {"pace": "slow", "crossM": {"value": 2, "mark": "common-practice"}, "source": "a brief", "mark": "published"}},
  "words": ["x"]
}`

func filled(t *testing.T, texts ...string) (s sheet, err error) {
	t.Helper()
	for _, text := range append([]string{start}, texts...) {
		if err := rule.Fill(rule.Fault{File: "rules/sheet.json", Entry: "one"}, []byte(text), &s); err != nil {
			return s, err
		}
	}
	return s, nil
}

// What a programme does not name stays as it was, with its source; what it changes without
// a source is its own.
func TestFillOver(t *testing.T) {
	s, err := filled(t, `{"sealM": 5, "topM": {"chosen": "none"}, "ground": {"clay": {"pace": "stop"}, "sand": {"pace": "free", "mark": "common-practice"}}}`)
	if err != nil {
		t.Fatal(err)
	}
	if s.Seal != (rule.Number{Value: 5, Basis: rule.Basis{Mark: rule.Own}}) {
		t.Errorf("changed seal %+v", s.Seal)
	}
	if s.Top.Value() != 0 || s.Top.Option().Source != "a manual" || len(s.Top.Options) != 2 {
		t.Errorf("chosen top %+v", s.Top)
	}
	if s.Length.Lo != 3 || s.Length.Mark != rule.Practice || !s.Fluid || s.Inner.Wall.Value != 5 {
		t.Errorf("what was not named has changed: %+v", s)
	}
	clay := s.Ground[soil.Clay]
	if clay.Pace != "stop" || clay.Mark != rule.Own || clay.Source != "" || clay.Cross.Value != 2 {
		t.Errorf("changed words keep the source of the old ones: %+v", clay)
	}
	if len(s.Ground) != 2 || s.Ground[soil.Sand].Pace != "free" {
		t.Errorf("grounds %+v", s.Ground)
	}
}

// A changed number within does not make the words around it the programme's.
func TestNumbersHaveTheirOwnBasis(t *testing.T) {
	s, err := filled(t, `{"ground": {"clay": {"crossM": 3}}, "lengthM": [2, 4], "topM": 1.5}`)
	if err != nil {
		t.Fatal(err)
	}
	clay := s.Ground[soil.Clay]
	if clay.Mark != rule.Published || clay.Cross.Mark != rule.Own {
		t.Errorf("clay %+v", clay)
	}
	if s.Length != (rule.Range{Lo: 2, Hi: 4, Basis: rule.Basis{Mark: rule.Own}}) {
		t.Errorf("length %+v", s.Length)
	}
	if s.Top.Value() != 1.5 || s.Top.Chosen != "own" || len(s.Top.Options) != 3 {
		t.Errorf("own answer %+v", s.Top)
	}
}

// The defaults must not change under a programme's file: choices and maps are copied.
func TestFillLeavesTheDefaults(t *testing.T) {
	base, err := filled(t)
	if err != nil {
		t.Fatal(err)
	}
	before := fmt.Sprintf("%+v", base)
	next := base
	text := `{"topM": {"chosen": "own", "options": [{"code": "two", "value": 9, "mark": "own"}, {"code": "own", "value": 1, "mark": "own"}]}, "ground": {"clay": {"pace": "stop"}}}`
	if err := rule.Fill(rule.Fault{}, []byte(text), &next); err != nil {
		t.Fatal(err)
	}
	if after := fmt.Sprintf("%+v", base); after != before {
		t.Errorf("the defaults became\n%s\nfrom\n%s", after, before)
	}
	if next.Top.Value() != 1 {
		t.Errorf("chosen %+v", next.Top)
	}
}

func TestFaults(t *testing.T) {
	tests := []struct {
		name, text  string
		kind        rule.FaultKind
		field, says string
	}{
		{"typing error in a name", `{"seaIM": 3}`, rule.UnknownField, "seaIM", "sealM"},
		{"below", `{"inner": {"wall": 3}}`, rule.UnknownField, "inner.wall", "wallMM"},
		{"no such class", `{"ground": {"mud": {}}}`, rule.UnknownField, "ground.mud", "mud"},
		{"text for a number", `{"sealM": "three"}`, rule.WrongValue, "sealM", "three"},
		{"null for a number", `{"sealM": null}`, rule.WrongValue, "sealM", "null"},
		{"decimal comma", `{"sealM": 3,5}`, rule.Unreadable, "", "line 1"},
		{"number for a yes", `{"fluid": 1}`, rule.WrongValue, "fluid", "1"},
		{"range upside down", `{"lengthM": [6, 3]}`, rule.WrongValue, "lengthM", "[6, 3]"},
		{"half a range", `{"lengthM": {"lo": 3}}`, rule.WrongValue, "lengthM", "lo"},
		{"number without a value", `{"sealM": {"mark": "own"}}`, rule.WrongValue, "sealM", "mark"},
		{"no such mark", `{"sealM": {"value": 1, "mark": "sure"}}`, rule.WrongValue, "sealM", "sure"},
		{"a source promised", `{"sealM": {"value": 1, "mark": "published"}}`, rule.WrongValue, "sealM", "published"},
		{"no such option", `{"topM": {"chosen": "three"}}`, rule.WrongValue, "topM", "three"},
		{"option without a code", `{"topM": {"options": [{"value": 1, "mark": "own"}]}}`, rule.WrongValue, "topM", "options"},
		{"a list for an object", `{"inner": []}`, rule.WrongValue, "inner", "[]"},
		{"a number too large", `{"sealM": 1e999}`, rule.WrongValue, "sealM", "1e999"},
		{"basis with a typing error", `{"ground": {"clay": {"pace": "free", "mark": "sure"}}}`, rule.WrongValue, "ground.clay", "sure"},
		{"third line", "{\n\n\"sealM\": }", rule.Unreadable, "", "line 3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := filled(t, tt.text)
			var fault *rule.Fault
			if !errors.As(err, &fault) || geo.KindOf(err) != geo.Invalid {
				t.Fatalf("error %v, want a fault", err)
			}
			if fault.Kind != tt.kind || fault.Field != tt.field || fault.File != "rules/sheet.json" {
				t.Errorf("fault %+v", fault)
			}
			if text := err.Error(); !strings.Contains(text, tt.says) {
				t.Errorf("%q does not tell %q", text, tt.says)
			}
		})
	}
}

func TestBounds(t *testing.T) {
	at := rule.Fault{File: "f", Entry: "e"}
	nan := 0.0
	nan /= nan
	for _, tt := range []struct {
		value float64
		ok    bool
	}{{1, true}, {2, true}, {0.99, false}, {2.01, false}, {nan, false}} {
		if err := at.Within("x", tt.value, 1, 2); (err == nil) != tt.ok {
			t.Errorf("%v: %v", tt.value, err)
		}
	}
	if err := at.OneOf("x", "c", "a", "b"); err == nil || !strings.Contains(err.Error(), "a, b") {
		t.Errorf("one of: %v", err)
	}
	if err := at.OneOf("x", "b", "a", "b"); err != nil {
		t.Error(err)
	}
	if err := at.Missing("x"); geo.KindOf(err) != geo.Invalid {
		t.Error(err)
	}
}

func TestEdited(t *testing.T) {
	folder := fstest.MapFS{"a.json": {Data: []byte("[]")}}
	if data, err := rule.Edited(folder, "a.json"); err != nil || string(data) != "[]" {
		t.Errorf("%q, %v", data, err)
	}
	folder["bom.json"] = &fstest.MapFile{Data: []byte("\ufeff[]")}
	if data, err := rule.Edited(folder, "bom.json"); err != nil || string(data) != "[]" {
		t.Errorf("with a byte order mark: %q, %v", data, err)
	}
	if data, err := rule.Edited(folder, "b.json"); err != nil || data != nil {
		t.Errorf("no file: %q, %v", data, err)
	}
	if data, err := rule.Edited(nil, "a.json"); err != nil || data != nil {
		t.Errorf("no folder: %q, %v", data, err)
	}
	if _, err := rule.Entries("a.json", []byte(`{"code": "x"}`)); err == nil || !strings.Contains(err.Error(), "not-a-list") {
		t.Errorf("an object for a list: %v", err)
	}
}

func TestTell(t *testing.T) {
	s, err := filled(t)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]rule.Told{}
	var paths []string
	for _, told := range rule.Tell(s) {
		path := strings.Join(told.Path, ".")
		got[path], paths = told, append(paths, path)
	}
	want := []string{"sealM", "lengthM", "topM", "inner.wallMM", "ground.clay", "ground.clay.crossM"}
	if !reflect.DeepEqual(paths, want) {
		t.Errorf("told %q, want %q", paths, want)
	}
	if top := got["topM"]; top.Lo != 2 || top.Plain || len(top.Answers) != 2 || !top.Answers[0].InForce ||
		top.Answers[1].InForce || top.Answers[1].Basis.Source != "a manual" {
		t.Errorf("choice told as %+v", top)
	}
	if clay := got["ground.clay"]; !clay.Plain || clay.Basis.Source != "a brief" {
		t.Errorf("words told as %+v", clay)
	}
}

// FuzzFill: whatever a file holds, it is taken whole or answered by a fault that names it.
func FuzzFill(f *testing.F) {
	f.Add(start)
	f.Add(`{"ground": {"clay": {"crossM": {"value": 1}}}}`)
	f.Add(`{"topM": {"options": null, "chosen": "two"}}`)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<12 {
			return
		}
		var s sheet
		err := rule.Fill(rule.Fault{File: "rules/x.json"}, []byte(text), &s)
		var fault *rule.Fault
		if err != nil && (!errors.As(err, &fault) || fault.File != "rules/x.json") {
			t.Errorf("%q: %v names no file", text, err)
		}
		if err == nil && !json.Valid([]byte(text)) {
			t.Errorf("%q was taken", text)
		}
	})
}

func ExampleChoice() {
	var latrine rule.Choice[float64]
	_ = json.Unmarshal([]byte(`{"chosen": "strict", "options": [
		{"code": "least", "value": 15, "source": "WHO 1997", "mark": "published"},
		{"code": "strict", "value": 30, "source": "Sphere", "mark": "published"}]}`), &latrine)
	fmt.Println(latrine.Value(), latrine.Option().Source)
	milder, _ := latrine.Choose("least")
	fmt.Println(milder.Value())
	// Output:
	// 30 Sphere
	// 15
}

func TestToldMessage(t *testing.T) {
	m := rule.Told{Path: []string{"ground", "weathered-rock", "rateMH"}, Lo: 1, Hi: 3}.Message("method")
	if got := m.String(); got != "told.method.ground.rate-mh class=class.weathered-rock amount=1 amount-to=3" {
		t.Errorf("%q", got)
	}
	if got := (rule.Told{Path: []string{"maxDepthM"}, Plain: true}).Message("method").String(); got != "told.method.max-depth-m" {
		t.Errorf("%q", got)
	}
}
