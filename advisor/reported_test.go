package advisor_test

import (
	"math"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/advisortest"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/geo"
	"waterstrike/geo/demoland"
)

// What a crew reports is easier to reach than water that lasts, in the month that suits its
// method, but for what is lost to the work; and over a region's own bores it comes nearer to the share that
// they reported as producing.
func TestReported(t *testing.T) {
	s, err := evidence.Load(t.Context(), evidencetest.Bores(demoland.New(12).Records().Bores))
	if err != nil {
		t.Fatal(err)
	}
	a := advisortest.Of(t, s)
	var n, reported, lasting, producing float64
	for i, b := range s.Bores() {
		q := advisor.Question{At: b.Pos, Method: b.Method, Seed: 1}
		if i%4 != 0 || b.Method == "machine" || b.Outcome == geo.OutcomeUnknown {
			continue
		}
		p := a.At(b.Pos)
		lasts, _, ok, err := p.Chance(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		said, known, err := p.Reported(t.Context(), q, b.Completed)
		if err != nil || known != ok {
			t.Fatal(known, ok, err)
		}
		most := 0.0
		for _, month := range []int{0, 1, 4, 7, 10} {
			in, _, err := p.Reported(t.Context(), q, geo.Date{Year: 2020, Month: month})
			if err != nil || in < 0 || in > 1 {
				t.Errorf("%s in month %d: %.3f, %v", b.Label, month, in, err)
			}
			most = max(most, in)
		}
		if most < 0.8*lasts.Chance-0.02 {
			t.Errorf("%s: reported %.3f at most, lasts %.3f", b.Label, most, lasts.Chance)
		}
		n, reported, lasting = n+1, reported+said, lasting+lasts.Chance
		if b.Outcome == geo.Producing {
			producing++
		}
	}
	reported, lasting, producing = reported/n, lasting/n, producing/n
	t.Logf("%g bores: %.3f said, %.3f lasting, %.3f producing", n, reported, lasting, producing)
	if n < 50 || math.Abs(reported-producing) > 0.1 || math.Abs(reported-producing) > math.Abs(lasting-producing) {
		t.Errorf("%g bores: %.3f said, %.3f lasting, %.3f producing", n, reported, lasting, producing)
	}
	if _, _, err := a.At(s.Bores()[0].Pos).Reported(t.Context(), advisor.Question{Method: "dowsing"}, geo.Date{}); geo.KindOf(err) != geo.Invalid {
		t.Errorf("an unknown method: %v", err)
	}
}
