package welldesign_test

import (
	"testing"

	"waterstrike/advisor/welldesign"
)

// BenchmarkDesign is one design of a demo column; an advice that designs every member of an
// ensemble pays this for each.
func BenchmarkDesign(b *testing.B) {
	k := kit(b, "percussion")
	sites := demoSites(b)
	for i := 0; b.Loop(); i++ {
		if _, err := welldesign.Design(sites[i%len(sites)], k); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkForesee is a forecast over 40 columns, loads and hours with it.
func BenchmarkForesee(b *testing.B) {
	k := kit(b, "percussion")
	var columns []welldesign.Possible
	for _, s := range demoSites(b) {
		columns = append(columns, welldesign.Possible{Site: s, Weight: 1})
	}
	for b.Loop() {
		if _, _, err := welldesign.Foresee(columns, k); err != nil {
			b.Fatal(err)
		}
	}
}
