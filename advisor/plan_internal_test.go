package advisor

import (
	"testing"

	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/geo/soil"
)

// Sand below the water is bailed and not chiselled, wherever within its half metre the water
// stands: the bailer with a flap valve is the tool for wet sand (common practice, no source).
func TestSandBelowWaterIsBailed(t *testing.T) {
	list, err := method.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	m, _ := method.Find(list, "percussion")
	var odds strata.Odds
	for i := range odds {
		odds[i][soil.Sand-1] = 1
	}
	for _, waterM := range []float64{6, 6.2, 6.24, 6.3, 6.5} {
		tools := toolsByDepth(&m, odds, waterM, 14)
		if len(tools) != 2 || tools[1].Tool != "bailer" || tools[1].TopM < waterM-0.25 || tools[1].TopM > waterM+0.25 {
			t.Errorf("water at %v m: %+v", waterM, tools)
		}
	}
}
