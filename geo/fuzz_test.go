package geo_test

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"waterstrike/geo"
)

// FuzzBore holds the JSON of a bore to its rules: what they let pass is written, read and
// written again to the same bytes, and holds no number that is none.
func FuzzBore(f *testing.F) {
	seed, err := json.Marshal(fullBore())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seed)
	f.Add([]byte(`{"id":"` + string(someID) + `","levels":[{"state":"dry-to","depthM":null,"on":"2011-13"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<13 {
			return // longer than a bore with every field
		}
		var b geo.Bore
		if json.Unmarshal(data, &b) != nil {
			return
		}
		b, err := geo.NewBore(b)
		if err != nil {
			return
		}
		first, err := json.Marshal(b)
		if err != nil {
			t.Fatalf("a bore that its rules let pass cannot be written: %v", err)
		}
		var back geo.Bore
		if err := json.Unmarshal(first, &back); err != nil {
			t.Fatalf("%s cannot be read back: %v", first, err)
		}
		if back, err = geo.NewBore(back); err != nil {
			t.Fatalf("%s is refused when read back: %v", first, err)
		}
		if second, err := json.Marshal(back); err != nil || !bytes.Equal(first, second) {
			t.Fatalf("%s became %s, %v", first, second, err)
		}
	})
}

// FuzzAnalyte holds the readers of names and units to their lists: what is found is one of
// the analytes, its unit converts to its own finitely, and its code finds itself.
func FuzzAnalyte(f *testing.F) {
	for _, s := range [][2]string{
		{"Nitrate (NO3)", "mg/l as N"}, {"E. coli", "UFC/100 ml"}, {"conductivité", "µS/cm"}, {"As", "ppb"}, {"", " "}, {"pH", ""},
	} {
		f.Add(s[0], s[1])
	}
	f.Fuzz(func(t *testing.T, name, unit string) {
		if len(name)+len(unit) > 1<<9 {
			return // longer than any heading
		}
		a, _, ok := geo.FindAnalyte(name)
		if !ok {
			return
		}
		if self, _, ok := geo.FindAnalyte(a.Code); !ok || self.Code != a.Code {
			t.Errorf("%q is %q, which does not find itself", name, a.Code)
		}
		read, basis, ok := a.ReadUnit(unit)
		if !ok {
			return
		}
		again, _, ok := a.ReadUnit(read)
		if !ok || again != read {
			t.Errorf("%s: unit %q is read as %q, and that as %q, %v", a.Code, unit, read, again, ok)
		}
		if v, err := a.In(1, read, basis); err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%s: 1 %s %s is %v", a.Code, read, basis, v)
		}
	})
}
