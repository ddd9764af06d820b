package demoland

import (
	"math"
	"testing"
)

// Differences of drawdown over a cycle of time, from Kruseman & de Ridder's Oude
// Korendijk test by Cooper & Jacob: Q 788 m3/d, 0.375 m per cycle, T 385 m2/d (from memory
// of section 3.2.2, recalculated).
func TestDrawdownPerCycle(t *testing.T) {
	r := HandPump(Limits{}, 150)
	r.YieldLPS, r.Efficiency, r.Storage = 788/86.4, 1, 1.7e-4
	r.Hours = 1
	first := r.drawdownM(385.0 / 86400)
	r.Hours = 10
	if got := r.drawdownM(385.0/86400) - first; math.Abs(got-0.375) > 0.001 { // T was rounded to three figures
		t.Errorf("drawdown per cycle %.4f m, want 0.375", got)
	}
}

// Logan's rule of thumb (1964, from memory), T = 1.22 Q/s, errs by half and more.
func TestDrawdownNearLogan(t *testing.T) {
	r := HandPump(Limits{}, 150)
	r.YieldLPS, r.Efficiency = 0.2, 1 // 17.3 m3/d, 4 m: T 5.3 m2/d
	if got := r.drawdownM(5.3 / 86400); got < 4*0.5 || got > 4*1.5 {
		t.Errorf("drawdown %.2f m, Logan says 4", got)
	}
}
