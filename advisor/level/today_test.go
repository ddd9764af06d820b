package level_test

import (
	"math"
	"testing"
	"time"
)

// The water stands at its low in the month of the low, at its high half a year on, and a
// reading is known to the tape at least.
func TestTodayFollowsTheSeason(t *testing.T) {
	obs := plain(40, 3)
	m := fit(t, obs)
	s := predict(t, m, obs, obs[0].At)
	low := s.Low(0.5)
	high := math.Inf(1)
	for month := time.January; month <= time.December; month++ {
		today := s.Today(low, month)
		high = min(high, today)
		if today > low+1e-9 || today < s.WetHigh(low)-1e-9 {
			t.Errorf("%v: water at %v, low %v, high %v", month, today, low, s.WetHigh(low))
		}
		if sd := s.TodaySD(low, month); sd < 0.15 || sd > 3 {
			t.Errorf("%v: a reading may differ by %v m", month, sd)
		}
	}
	if at := s.Today(low, season().Low); math.Abs(at-low) > 1e-9 {
		t.Errorf("in the month of the low the water stands at %v, not %v", at, low)
	}
	if math.Abs(high-s.WetHigh(low)) > 1e-9 {
		t.Errorf("the highest month stands at %v, the high is %v", high, s.WetHigh(low))
	}
}
