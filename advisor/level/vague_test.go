package level_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"waterstrike/advisor/level"
)

// How far readings of unknown origin err is learnt from how they stand among the others.
func TestVagueIsLearned(t *testing.T) {
	learnt := func(sd float64) float64 {
		rng := rand.New(rand.NewPCG(31, 1))
		obs := plain(200, 31)
		for i := range obs {
			if i%3 == 0 {
				obs[i].Vague = true
				obs[i].DepthM *= math.Exp(sd * rng.NormFloat64())
			}
		}
		_, report, err := level.Fit(t.Context(), obs, season())
		if err != nil {
			t.Fatal(err)
		}
		return report.VagueVar
	}
	if sure, odd := learnt(0), learnt(1); sure > 0.05 || odd < 0.5 {
		t.Errorf("variances %.2f of readings as good as any, %.2f of odd ones", sure, odd)
	}
}
