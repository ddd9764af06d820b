package method_test

import (
	"bytes"
	"errors"
	"testing"

	"waterstrike/advisor/method"
	"waterstrike/advisor/rule"
)

// FuzzLoad holds edited lists of methods to what a list may be: one that is taken has
// methods that can be drilled with, one that is not is answered by what is wrong and where.
func FuzzLoad(f *testing.F) {
	f.Add(method.File())
	f.Add([]byte(`[{"code":"auger","ground":{"clay":{"pace":"slow","crossableM":2}}}]`))
	f.Add([]byte(`[{"code":"x","ground":{"clay":{"pace":"slow","crossableM":1e999}}}]`))
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<15 {
			return // longer than a list of methods
		}
		got, err := method.Load(bytes.NewReader(text))
		var fault *rule.Fault
		if err != nil {
			if !errors.As(err, &fault) || fault.File == "" {
				t.Errorf("%v names no file", err)
			}
			return
		}
		for _, m := range got {
			if m.Code == "" || !(m.MaxDepthM > 0) || m.Crew < 1 || m.HoleMM < m.HoleRangeMM[0] {
				t.Errorf("%s gives %+v", text, m)
			}
		}
	})
}
