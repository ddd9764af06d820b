package terrain_test

import (
	"fmt"
	"runtime"
	"testing"

	"waterstrike/geo/terrain"
)

// A terrain is derived beside the least that any derivation does: one look at every cell.
func BenchmarkDerive(b *testing.B) {
	for _, side := range []int{900, 3600} {
		g := noise(b, side, side, 1)
		b.Run(fmt.Sprintf("%d by %d", side, side), func(b *testing.B) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			for b.Loop() {
				if _, err := terrain.Derive(b.Context(), g, terrain.Defaults(), nil); err != nil {
					b.Fatal(err)
				}
			}
			runtime.ReadMemStats(&after)
			cells := float64(side * side)
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/cells, "ns/cell")
			b.ReportMetric(float64(after.Sys-before.Sys)/cells, "new-bytes/cell")
		})
		b.Run(fmt.Sprintf("look at %d by %d", side, side), func(b *testing.B) {
			for b.Loop() {
				sum := 0.0
				each(g.Frame, func(r, c int) {
					if z, ok := g.At(r, c); ok {
						sum += z
					}
				})
			}
		})
	}
}
