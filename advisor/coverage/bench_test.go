package coverage_test

import (
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/geo/coord"
)

// BenchmarkCount is 100,000 villages and 10,000 points over 150 by 150 km, from the records
// to the answer; again asks a second day of the same land. The baseline measures every
// pair, for a hundredth of the villages.
func BenchmarkCount(b *testing.B) {
	villages, points := region(1, 100_000, 10_000, 150_000)
	ask := coverage.Ask{Standard: standard(b, "norm-ug"), On: day(b, "2016")}
	b.Run("whole", func(b *testing.B) {
		for b.Loop() {
			counted(b, prepared(b, villages, points, 1000), ask)
		}
	})
	b.Run("again", func(b *testing.B) {
		l := prepared(b, villages, points, 1000)
		for b.Loop() {
			counted(b, l, ask)
		}
	})
	b.Run("every pair of a hundredth", func(b *testing.B) {
		for b.Loop() {
			near := 0
			for _, v := range villages[:1000] {
				for _, p := range points {
					if coord.DistanceM(v.At, p.At) <= 1000 {
						near++
					}
				}
			}
			if near == 0 {
				b.Fatal("nothing near")
			}
		}
	})
}

func BenchmarkKaplanMeier(b *testing.B) {
	spans := spansOf(b, "made-up")
	for b.Loop() {
		if _, err := coverage.KaplanMeier(spans); err != nil {
			b.Fatal(err)
		}
	}
}
