package coverage_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
)

func defaults(t testing.TB) []coverage.Standard {
	t.Helper()
	list, err := coverage.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func standard(t testing.TB, code string) coverage.Standard {
	t.Helper()
	s, ok := coverage.Find(defaults(t), code)
	if !ok {
		t.Fatalf("no standard %s", code)
	}
	return s
}

// The numbers of Sphere 2018 as published; each entry says where it is from and how well
// it is founded.
func TestDefaults(t *testing.T) {
	s := standard(t, "sphere-2018")
	people := map[geo.PointKind]int{}
	for _, k := range s.Kinds {
		people[k.Kind] = k.People.Or(0)
	}
	if s.WalkM != 500 || s.LitresPerHead.Or(0) != 15 || people[geo.TubeWell] != 500 || people[geo.DugWell] != 400 || people[geo.PipedPoint] != 250 {
		t.Errorf("%+v", s)
	}
	// A pump of 17 L/min over 8 h gives 500 people 16.3 L each: the norm, not the flow, binds.
	if litres := 17.0 * 60 * 8 / 500; litres < s.LitresPerHead.Or(0) {
		t.Errorf("%.1f L a head", litres)
	}
	for _, s := range defaults(t) {
		if s.Source == "" || s.Mark == "" {
			t.Errorf("%s has no source or no mark", s.Code)
		}
	}
	if _, ok := coverage.Find(defaults(t), "none"); ok {
		t.Error("found a standard that is not there")
	}
}

func TestLoad(t *testing.T) {
	text, err := json.Marshal(defaults(t))
	if err != nil {
		t.Fatal(err)
	}
	back, err := coverage.Load(bytes.NewReader(text))
	if err != nil || !reflect.DeepEqual(back, defaults(t)) {
		t.Errorf("written and read back: %v", err)
	}
	const whole = `[{"code":"x","walkM":500,"kinds":[{"kind":"tube-well","people":250}],"source":"s","mark":"m"}]`
	if _, err := coverage.Load(strings.NewReader(whole)); err != nil {
		t.Fatal(err)
	}
	for name, edit := range map[string][3]string{
		"no code":              {`"x"`, `""`, "rules.absent file=rules/standards.json row=0 entry= field=code"},
		"no distance":          {`500`, `0`, "rules.outside file=rules/standards.json row=0 entry=x field=walkM value=0"},
		"across the country":   {`500`, `99999999`, "rules.outside"},
		"no kinds":             {`[{"kind":"tube-well","people":250}]`, `[]`, "field=kinds"},
		"nobody":               {`250`, `0`, "field=kinds.people value=0"},
		"unknown kind":         {`tube-well`, `unknown`, "rules.not-one-of"},
		"misspelt kind":        {`tube-well`, `pump`, "rules.not-one-of file=rules/standards.json row=0 entry=x field=kinds.kind value=pump"},
		"litres without hours": {`"source"`, `"litresPerHead":15,"source"`, "field=hoursPerDay"},
		"days of 25 hours":     {`"source"`, `"litresPerHead":15,"hoursPerDay":25,"source"`, "field=hoursPerDay value=25"},
		"misspelt":             {`walkM`, `walkm`, "rules.unknown-field"},
		"a text for a number":  {`500`, `"500"`, "rules.wrong-value"},
		"no JSON":              {`,"walkM"`, `"walkM"`, "rules.unreadable"},
		"no list":              {whole, `{}`, "rules.not-a-list"},
		"empty":                {whole, `[]`, "rules.absent"},
		"twice":                {whole, whole[:len(whole)-1] + "," + whole[1:], "rules.twice"},
		"kind twice":           {`[{"kind"`, `[{"kind":"tube-well"},{"kind"`, "rules.twice"},
	} {
		_, err := coverage.Load(strings.NewReader(strings.Replace(whole, edit[0], edit[1], 1)))
		refused(t, name, err, geo.Invalid, edit[2])
	}
}

// FuzzLoad: a list that is taken is written and taken again.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(`[{"code":"x","walkM":500,"litresPerHead":15,"hoursPerDay":8,"kinds":[{"kind":"tube-well","people":250,"protected":true}]}]`))
	f.Add([]byte(`[{"code":"x","walkM":1e999,"kinds":[{"kind":"piped"}]}]`))
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<12 {
			return // longer than a few standards
		}
		got, err := coverage.Load(bytes.NewReader(text))
		if err != nil {
			return
		}
		again, err := json.Marshal(got)
		if err != nil {
			t.Fatalf("%+v cannot be written: %v", got, err)
		}
		if back, err := coverage.Load(bytes.NewReader(again)); err != nil || !reflect.DeepEqual(back, got) {
			t.Errorf("%s is not taken again: %v", again, err)
		}
	})
}
