package geo_test

import (
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// The error says in which way a text is no position.
func TestMisread(t *testing.T) {
	for text, want := range map[string]geo.Code{
		"somewhere":          "problem.bad-position",
		"95 N 200 E":         "problem.position-off-globe",
		"12 13":              "",
		"12,36":              "problem.ambiguous-position",
		"36S 500000 3800000": "problem.ambiguous-position",
	} {
		_, err := coord.ReadPair(text, coord.LatLonOrder)
		if want == "" {
			if err != nil {
				t.Errorf("%s: %v", text, err)
			}
			continue
		}
		wrong := geo.Misread("test", text, err)
		if got := wrong.Message.Code; got != want || wrong.Kind != geo.Invalid {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}
