package coord_test

import (
	"testing"

	"waterstrike/geo/coord"
)

// FuzzNames holds the readers of grids and datums to their own names: what they read is
// found again by the name that it is given.
func FuzzNames(f *testing.F) {
	for _, s := range []string{
		"EPSG:32637", "UTM 37N", "WGS 84 / UTM zone 37N", "Arc 1950 / UTM zone 36S", "37 P", "fuseau 31 nord", "Minna", "Adindan", "utm61n", "EPSG:99999", "00N",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<9 {
			return // longer than any name
		}
		if p, err := coord.ParseProjection(text); err == nil {
			if again, err := coord.ParseProjection(p.String()); err != nil || again != p {
				t.Errorf("%q is %v, whose name is read as %v, %v", text, p, again, err)
			}
		}
		if d, err := coord.ParseDatum(text); err == nil {
			if again, err := coord.ParseDatum(d.String()); err != nil || again != d {
				t.Errorf("%q is %v, whose name is read as %v, %v", text, d, again, err)
			}
		}
	})
}
