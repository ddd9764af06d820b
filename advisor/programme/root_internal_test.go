package programme

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"waterstrike/geo/outside"
)

// The bound of the whole, before any branch, is no higher than what the linear programme
// allows that may drill in parts of villages: deciding rounds whole can only lower it
// (Geoffrion 1974). And no lower than the optimum.
func TestRootBound(t *testing.T) {
	optima := outside.ReadTable(t, outside.Reference(t, "programme", "optima.csv"))
	for i, row := range optima.Rows {
		if row["status"] != "optimal" {
			continue
		}
		text, err := os.ReadFile(outside.Reference(t, "programme", row["problem"]+".json"))
		if err != nil {
			t.Fatal(err)
		}
		var p Problem
		if err := json.Unmarshal(text, &p); err != nil {
			t.Fatal(err)
		}
		scenarios, err := p.check()
		if err != nil {
			t.Fatal(err)
		}
		optimum, relaxed := optima.Number(i, "optimum"), optima.Number(i, "relaxed")
		m := build(&p, scenarios)
		s := newSearch(m, limits{enough: math.Inf(1), below: math.Inf(-1), work: 1 << 40})
		s.score = 0.98 * optimum // a score such as some programme soon has
		low := s.r.descend(m.noPrices(), s.whole(), s.score, rootSteps)
		s.r.polish(&low, s.whole())
		tol := 1e-4 // polished
		if p.Rules.Caution > 0 {
			tol = 0.02 // weights of scenarios are only walked down
		}
		if low.bound > relaxed*(1+tol) || low.bound < optimum*(1-1e-9) {
			t.Errorf("%s: bound %.3f, optimum %.3f, relaxed %.3f", row["problem"], low.bound, optimum, relaxed)
		}
		t.Logf("%s: bound %.3f, optimum %.3f, relaxed %.3f", row["problem"], low.bound, optimum, relaxed)
	}
}
