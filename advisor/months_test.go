package advisor_test

import (
	"testing"
	"time"

	"waterstrike/advisor"
)

// A hole that is drilled while water stands high lasts no better than one drilled at the
// low, whose chance is the one that the methods are compared by; in the valley, with water
// at 4 m and an auger that goes 6 m below it, it lasts worse.
func TestChanceByMonth(t *testing.T) {
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	rules.Methods = rules.Methods[:1] // the auger
	a := advisorOf(t, region(t, 200), rules)
	out := advise(t, a, 0.1, 0.2)
	if len(out.Months) != 12 {
		t.Fatalf("%d months, the verdict is %s", len(out.Months), out.Verdict.Code)
	}
	low, best, worst := time.Month(0), 0.0, 1.0
	for i, m := range out.Months {
		if m.Month != time.Month(i+1) || m.Chance < 0 || m.Chance > 1 {
			t.Errorf("place %d: month %v has chance %v", i, m.Month, m.Chance)
		}
		if m.Chance > best {
			low, best = m.Month, m.Chance
		}
		worst = min(worst, m.Chance)
	}
	if best > out.Methods[0].Chance || best < out.Methods[0].Chance-0.02 {
		t.Errorf("the best month, %v, has chance %v, the method %v", low, best, out.Methods[0].Chance)
	}
	if worst > best-0.01 {
		t.Errorf("the chance is %v to %v, whatever the month", worst, best)
	}
}
