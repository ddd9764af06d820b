package method_test

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"waterstrike/advisor/method"
)

// FuzzLoad holds edited lists of methods to what a list may be: one that is taken is
// written and taken again.
func FuzzLoad(f *testing.F) {
	data, err := os.ReadFile("methods.json")
	if err != nil {
		f.Fatal(err)
	}
	var list []json.RawMessage
	if err := json.Unmarshal(data, &list); err != nil {
		f.Fatal(err)
	}
	f.Add([]byte("[" + string(list[0]) + "]"))
	f.Add([]byte(`[{"code":"x","ground":{"clay":{"pace":"slow","crossableM":1e999}}}]`))
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<13 {
			return // longer than a few methods
		}
		got, err := method.Load(bytes.NewReader(text))
		if err != nil {
			return
		}
		again, err := json.Marshal(got)
		if err != nil {
			t.Fatalf("%+v cannot be written: %v", got, err)
		}
		if back, err := method.Load(bytes.NewReader(again)); err != nil || len(back) != len(got) {
			t.Errorf("%s is not taken again: %v", again, err)
		}
	})
}
