package programme_test

import (
	"fmt"
	"testing"

	"waterstrike/advisor/programme"
)

// BenchmarkSolve is 500 villages with six options each, 60 rounds and three windows, at
// budgets for some 10, 25 and 50 of a hundred villages; the baseline is the simple rule of
// most people for the money. It reports the proven distance to the bound and the gain.
func BenchmarkSolve(b *testing.B) {
	for _, share := range []float64{0.02, 0.1, 0.25, 0.5} {
		p := made{villages: 500, options: 6, rounds: 60, districts: 5, windows: 3, share: share}.problem(1)
		b.Run(fmt.Sprint(share), func(b *testing.B) {
			var got *programme.Programme
			for b.Loop() {
				got = solved(b, p)
			}
			simple, err := programme.Simple(p, programme.PeoplePerCost)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(100*got.Proof.Gap, "%gap")
			b.ReportMetric(float64(len(got.Picks)), "villages")
			b.ReportMetric(100*(got.People/simple.People-1), "%above-simple")
		})
		b.Run(fmt.Sprint(share, "/simple"), func(b *testing.B) {
			for b.Loop() {
				if _, err := programme.Simple(p, programme.PeoplePerCost); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkCautious is the same with 100 scenarios and half the weight on the worst fifth.
func BenchmarkCautious(b *testing.B) {
	p := made{villages: 500, options: 4, rounds: 60, districts: 5, windows: 2, scenarios: 100, share: 0.25}.problem(1)
	p.Rules.Caution = 0.5
	for b.Loop() {
		got := solved(b, p)
		b.ReportMetric(100*got.Proof.Gap, "%gap")
	}
}
