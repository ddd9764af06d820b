package store

import (
	"encoding/json"
	"testing"

	"waterstrike/geo"
)

// FuzzMessage holds kept messages to their own JSON: what is read is written and read
// again as the same.
func FuzzMessage(f *testing.F) {
	all := geo.Say("issue.x", geo.With("a", geo.Metres(7.5)), geo.With("b", geo.MetresRange{Lo: 6, Hi: 9}), geo.With("c", geo.Text("é")),
		geo.With("d", geo.Count(3)), geo.With("e", geo.Date{Year: 2004, Month: 3}), geo.With("f", geo.Ref("x.y")), geo.With("g", geo.Chance(0.5)))
	seed, err := json.Marshal(all)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(seed))
	f.Add(`{"code":"x","args":[{"name":"a","type":"count","value":1e99}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<12 {
			return // longer than any message
		}
		m, err := messageOf(text)
		if err != nil {
			return
		}
		first, err := json.Marshal(m)
		if err != nil {
			t.Fatalf("%+v cannot be written: %v", m, err)
		}
		again, err := messageOf(string(first))
		if err != nil {
			t.Fatalf("%s cannot be read back: %v", first, err)
		}
		if second, err := json.Marshal(again); err != nil || string(first) != string(second) {
			t.Fatalf("%s became %s, %v", first, second, err)
		}
	})
}
