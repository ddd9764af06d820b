package level_test

import (
	"errors"
	"math"
	"testing"

	"waterstrike/advisor/level"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
)

// Poor records are answered, or refused by a word, and never by a number that is none.
func TestDegenerateRecords(t *testing.T) {
	each := func(n int, change func(i int, o *level.Observation)) []level.Observation {
		obs := plain(n, 91)
		for i := range obs {
			change(i, &obs[i])
		}
		return obs
	}
	refused := []error{variogram.ErrTooFewData, variogram.ErrNoVariation}
	for name, c := range map[string]struct {
		obs  []level.Observation
		want []error // nil: answered
	}{
		"no bores":          {nil, refused},
		"one bore":          {plain(1, 91), refused},
		"all at one spot":   {each(40, func(_ int, o *level.Observation) { o.At = variogram.XY{X: 5, Y: 5} }), refused},
		"all dry":           {each(40, func(_ int, o *level.Observation) { o.State = level.DryTo }), refused},
		"wells alone":       {each(40, func(_ int, o *level.Observation) { o.State, o.Dry = level.Well, geo.Months(5) }), refused},
		"all flowing":       {each(40, func(_ int, o *level.Observation) { o.State = level.Flowing }), nil},
		"on a line":         {each(60, func(i int, o *level.Observation) { o.At.Y = 2 * o.At.X }), nil},
		"all equal":         {each(60, func(_ int, o *level.Observation) { o.DepthM = 6 }), nil},
		"all at the ground": {each(60, func(_ int, o *level.Observation) { o.DepthM = 0 }), nil},
		"a 300 m outlier":   {each(60, func(i int, o *level.Observation) { o.DepthM += 290 * float64(1-min(i, 1)) }), nil},
		"two at each spot":  {each(60, func(i int, o *level.Observation) { o.At = variogram.XY{X: float64(i/2) * 300} }), nil},
		"a day in the 1800s": {each(60, func(i int, o *level.Observation) {
			o.On = geo.Date{Year: 1801 + 217*min(i, 1), Month: 1 + i%12, Day: 1}
		}), nil},
	} {
		t.Run(name, func(t *testing.T) {
			m, _, err := level.Fit(t.Context(), c.obs, season())
			if c.want != nil {
				if err == nil || !errors.Is(err, c.want[0]) && !errors.Is(err, c.want[1]) {
					t.Errorf("error %v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, at := range []variogram.XY{c.obs[0].At, {X: 7000, Y: 7000}, {X: 4e6, Y: -4e6}} { // on a bore, among them, far off
				s, err := m.Predict(nearest(c.obs, at, 32), at, level.Land{})
				if err != nil {
					t.Fatal(err)
				}
				low := s.Low(0.5)
				for _, v := range []float64{s.Low(0.01), low, s.Low(0.99), s.DesignLow(low), s.WetHigh(low), s.Reading(geo.Date{Month: 3}, true).Quantile(0.5)} {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Fatalf("at %v: %v", at, v)
					}
				}
				if name == "a 300 m outlier" && at == (variogram.XY{X: 7000, Y: 7000}) && (low < 3 || low > 20) {
					t.Errorf("one reading of 300 m among lows of 4 to 12 m makes the low %.1f m", low)
				}
			}
		})
	}
}
