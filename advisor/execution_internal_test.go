package advisor

import (
	"math"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
)

// By hand: the median of a Beta distribution of a and b, both above 1, lies near
// (a - 1/3)/(a + b - 2/3) (Kerman 2011, A closed-form approximation for the median of the
// beta distribution; within 0.003 here). Dry, refused and weak holes are the ground's.
func TestExecution(t *testing.T) {
	var bores []*evidence.Bore
	add := func(m geo.Method, o geo.Outcome, n int) {
		for range n {
			bores = append(bores, &evidence.Bore{Method: m, Outcome: o})
		}
	}
	add("auger", geo.Producing, 60)
	add("auger", geo.Refused, 12)
	add("auger", geo.LowYield, 8)
	add("auger", geo.Collapsed, 15)
	add("auger", geo.Failed, 5)
	add("auger", geo.OutcomeUnknown, 50)
	add("jetting", geo.Collapsed, 1)
	l := lostIn(bores)
	e := l.execution("auger")
	if e.Holes != 100 || e.Lost != 20 {
		t.Fatalf("%+v", e)
	}
	if want := (89 - 1/3.) / (110 - 2/3.); math.Abs(e.Kept.P50-want) > 0.003 || e.Kept.P10 >= e.Kept.P50 || e.Kept.P90 <= e.Kept.P50 {
		t.Errorf("kept %+v, want %v", e.Kept, want)
	}
	none := l.execution("sludging")
	if none.Holes != 0 || math.Abs(none.Kept.P50-(9-1/3.)/(10-2/3.)) > 0.003 {
		t.Errorf("nobody sludged: %+v", none)
	}
}
