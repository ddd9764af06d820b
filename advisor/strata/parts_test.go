package strata_test

import (
	"math"
	"testing"

	"waterstrike/advisor/strata"
	"waterstrike/geo/soil"
)

// The parts mixed again have the odds of the statement.
func TestPartsHaveTheOdds(t *testing.T) {
	logs, x := twoSides(60)
	for i := range logs {
		logs[i].Refused = i%3 == 0
	}
	m, _ := fit(t, logs, x)
	near := nearest(logs, x, 0.4, -1)
	s := m.At(near, nil)
	parts := s.Parts(near)
	total := parts.Rest
	for _, log := range parts.Logs {
		total += log.Share
		if near[log.Near].Log.Refused != (log.Below != nil) {
			t.Errorf("log %d: refused %v, what lies below %v", log.Near, near[log.Near].Log.Refused, log.Below)
		}
	}
	if math.Abs(total-1) > 1e-12 {
		t.Errorf("shares add up to %v", total)
	}
	var first [soil.Count]float64
	for k, p := range parts.First {
		first[k] += parts.Rest * p
	}
	for _, log := range parts.Logs {
		odds := parts.First
		if log.Runs[0].From == 0 {
			odds = log.Runs[0].Odds
		}
		for k, p := range odds {
			first[k] += log.Share * p
		}
	}
	for k, p := range first {
		if math.Abs(p-s.Odds[0][k]) > 1e-12 {
			t.Errorf("class %d has odds %v, mixed again %v", k+1, s.Odds[0][k], p)
		}
	}
	for z := 1; z < strata.Cells; z++ {
		for j, row := range parts.Steps[z] {
			sum := 0.0
			for _, p := range row {
				sum += p
			}
			if math.Abs(sum-1) > 1e-9 {
				t.Fatalf("cell %d: row %d adds up to %v", z, j, sum)
			}
		}
	}
	minutes, spread := strata.UsualMinutes()
	for k, p := range strata.Struck() {
		if !(p > 0 && p <= 1 && minutes[k] > 0 && spread > 0) {
			t.Errorf("class %d: struck %v, %v minutes", k+1, p, minutes[k])
		}
	}
}
