package level_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"waterstrike/advisor/level"
)

// yearly are the readings of a region in all months, by a course that rises in three
// months and falls in nine.
func yearly(n int, seed uint64, rangeM float64, low int) []level.Observation {
	rng := rand.New(rand.NewPCG(seed, 6))
	obs := plain(n, seed)
	for i := range obs {
		month := 1 + rng.IntN(12)
		since := (month - low + 12) % 12
		rise := math.Min(float64(since)/3, float64(12-since)/9)
		obs[i].DepthM = math.Max(truth(obs[i].At)*math.Exp(0.1*rng.NormFloat64())-rise*rangeM, 0)
		obs[i].On = in(time.Month(month))
	}
	return obs
}

// Readings of every month tell range and low of the year, whatever the default says, and
// carry the level back to its low.
func TestSeasonIsLearned(t *testing.T) {
	for _, c := range []struct {
		rangeM float64
		low    int
	}{{3, 5}, {2, 11}} {
		obs := yearly(220, 21, c.rangeM, c.low)
		m, report, err := level.Fit(t.Context(), obs, season())
		if err != nil {
			t.Fatal(err)
		}
		s := report.Season
		off := (int(s.Low) - c.low + 18) % 12
		if !s.Identified || math.Abs(s.RangeM-c.rangeM) > 0.8 || off < 5 || off > 7 {
			t.Errorf("range %.1f m, low in %v, identified %v; want %v m, %v", s.RangeM, s.Low, s.Identified, c.rangeM, time.Month(c.low))
		}
		sum := 0.0
		for _, o := range obs[:60] {
			sum += math.Log(predict(t, m, obs, o.At).Low(0.5) / truth(o.At))
		}
		if bias := sum / 60; math.Abs(bias) > 0.08 {
			t.Errorf("low in %v: the middle of the stated lows is off by %.2f of its logarithm", time.Month(c.low), bias)
		}
	}
}

// Where the water hardly moves, where all is read in a few months, and where the programme
// says so itself, no course is made up.
func TestSeasonNotIdentified(t *testing.T) {
	still := yearly(160, 22, 0, 5)
	crowded := yearly(160, 23, 3, 5)
	for i := range crowded {
		crowded[i].On = in(time.Month(3 + i%3))
	}
	given := season()
	given.Given = true
	for name, c := range map[string]struct {
		obs    []level.Observation
		season level.Season
	}{"still water": {still, season()}, "three months": {crowded, season()}, "given": {yearly(160, 24, 3, 5), given}} {
		_, report, err := level.Fit(t.Context(), c.obs, c.season)
		if err != nil {
			t.Fatal(err)
		}
		if s := report.Season; s.Identified || s.RangeM != 2.5 {
			t.Errorf("%s: range %.2f m, low in %v, identified", name, s.RangeM, s.Low)
		}
	}
}
