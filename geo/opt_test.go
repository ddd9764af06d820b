package geo_test

import (
	"encoding/json"
	"testing"

	"waterstrike/geo"
)

func TestOpt(t *testing.T) {
	var missing geo.Opt[float64]
	zero := geo.Some(0.0)
	if _, known := missing.Get(); known || missing.Known() || missing.Or(7) != 7 || !missing.IsZero() {
		t.Errorf("the zero Opt is not missing: %+v", missing)
	}
	if v, known := zero.Get(); !known || v != 0 || !zero.Known() || zero.Or(7) != 0 || zero.IsZero() {
		t.Errorf("a known 0 is taken for missing: %+v", zero)
	}
}

func TestOptJSON(t *testing.T) {
	type record struct {
		Kept geo.Opt[float64] `json:"kept"`
		Left geo.Opt[float64] `json:"left,omitzero"`
	}
	for _, c := range []struct {
		name string
		give record
		want string
	}{
		{"missing", record{}, `{"kept":null}`},
		{"known 0", record{geo.Some(0.0), geo.Some(0.0)}, `{"kept":0,"left":0}`},
		{"known", record{geo.Some(1.5), geo.Some(-2.0)}, `{"kept":1.5,"left":-2}`},
	} {
		got, err := json.Marshal(c.give)
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %s, %v; want %s", c.name, got, err, c.want)
		}
		var back record
		if err := json.Unmarshal(got, &back); err != nil || back != c.give {
			t.Errorf("%s comes back as %+v, %v", c.name, back, err)
		}
	}
}

// A value that cannot be read leaves nothing behind, not even what was there before.
func TestOptJSONRefuses(t *testing.T) {
	o := geo.Some([]int{7})
	if err := json.Unmarshal([]byte(`[1, "two"]`), &o); err == nil {
		t.Error("words went through as a number")
	}
	if v, known := o.Get(); known || v != nil {
		t.Errorf("left behind: %v, known %v", v, known)
	}
}
