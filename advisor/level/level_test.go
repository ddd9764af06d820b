package level_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"waterstrike/advisor/level"
	"waterstrike/advisor/variogram"
	"waterstrike/geo"
)

func season() level.Season { return level.DefaultSeason(1) }

// plain is a region whose low deepens eastwards from about 4 to 12 m, with noise of 10 %
// and readings in every month.
func plain(n int, seed uint64) []level.Observation {
	rng := rand.New(rand.NewPCG(seed, 1))
	var obs []level.Observation
	for range n {
		at := variogram.XY{X: rng.Float64() * 20000, Y: rng.Float64() * 20000}
		obs = append(obs, level.Observation{At: at, DepthM: truth(at) * math.Exp(0.1*rng.NormFloat64()), On: in(time.May)})
	}
	return obs
}

func truth(at variogram.XY) float64 { return 4 + 8*at.X/20000 }

func fit(t *testing.T, obs []level.Observation) *level.Model {
	t.Helper()
	m, _, err := level.Fit(t.Context(), obs, season())
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// nearest returns the n nearest observations to a point.
func nearest(obs []level.Observation, at variogram.XY, n int) []level.Observation {
	out := slices.Clone(obs)
	slices.SortFunc(out, func(a, b level.Observation) int {
		if math.Hypot(a.At.X-at.X, a.At.Y-at.Y) < math.Hypot(b.At.X-at.X, b.At.Y-at.Y) {
			return -1
		}
		return 1
	})
	return out[:min(n, len(out))]
}

// Observations that were read before say what they say unread, by the model that read them
// and by another.
func TestReadObservationsSayTheSame(t *testing.T) {
	obs := plain(60, 3)
	obs[3].State, obs[4].State, obs[5].Vague = level.Flowing, level.DryTo, true
	obs[6].State, obs[6].Dry = level.Well, geo.Months(time.May)
	m, other := fit(t, obs), fit(t, plain(50, 4))
	read := make([]level.Observation, len(obs))
	for i, o := range obs {
		at := o.At
		o.At = variogram.XY{}
		read[i] = m.Read(o)
		read[i].At = at
	}
	for _, at := range []variogram.XY{{X: 5000, Y: 5000}, {X: 15000, Y: 2000}} {
		for _, m := range []*level.Model{m, other} {
			want, got := predict(t, m, obs, at), predict(t, m, read, at)
			if !reflect.DeepEqual(got.Distribution, want.Distribution) || !slices.Equal(got.Shares, want.Shares) {
				t.Errorf("at %v: %+v read before, %+v unread", at, got, want)
			}
		}
	}
}

func predict(t *testing.T, m *level.Model, obs []level.Observation, at variogram.XY) level.Statement {
	t.Helper()
	s, err := m.Predict(nearest(obs, at, 32), at, level.Land{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestPredictHoldsItsRange(t *testing.T) {
	inside, n := 0, 0
	for seed := range uint64(5) {
		obs := plain(150, seed)
		m := fit(t, obs)
		rng := rand.New(rand.NewPCG(seed, 2))
		for range 80 {
			at := variogram.XY{X: rng.Float64() * 20000, Y: rng.Float64() * 20000}
			s := predict(t, m, obs, at)
			y := truth(at) * math.Exp(0.1*rng.NormFloat64())
			if y >= s.Low(0.1) && y <= s.Low(0.9) {
				inside++
			}
			n++
		}
	}
	// 400 draws at 80 % wander by 2 points of standard error, plus what a fitted
	// variogram misses.
	if share := float64(inside) / float64(n); share < 0.72 || share > 0.90 {
		t.Errorf("80 %% range holds %.0f %% of %d new bores", 100*share, n)
	}
}

func TestQuantilesRise(t *testing.T) {
	obs := plain(100, 3)
	m := fit(t, obs)
	for _, at := range []variogram.XY{{X: 10000, Y: 10000}, {X: 1e6, Y: 0}, obs[0].At} {
		s := predict(t, m, obs, at)
		last := math.Inf(-1)
		for p := 0.05; p < 1; p += 0.05 {
			q := s.Low(p)
			if !(q > last) || math.IsNaN(q) {
				t.Fatalf("at %v: quantile %.2f is %v after %v", at, p, q, last)
			}
			last = q
		}
		if y := s.Low(0.5); !(s.WetHigh(y) < y && y < s.DesignLow(y)) {
			t.Errorf("at %v: wet high %v, low %v, design low %v are out of order", at, s.WetHigh(y), y, s.DesignLow(y))
		}
	}
}

func TestFarFromReadingsIsWide(t *testing.T) {
	obs := plain(100, 4)
	m := fit(t, obs)
	width := func(at variogram.XY) float64 { s := predict(t, m, obs, at); return s.Low(0.9) - s.Low(0.1) }
	if near, far := width(variogram.XY{X: 10000, Y: 10000}), width(variogram.XY{X: 300000, Y: 10000}); far < 1.5*near {
		t.Errorf("80 %% range is %.1f m inside the region and %.1f m far from it", near, far)
	}
}

func TestSharesAddUp(t *testing.T) {
	obs := plain(100, 5)
	m := fit(t, obs)
	total := 0.0
	for _, w := range predict(t, m, obs, variogram.XY{X: 5000, Y: 5000}).Shares {
		total += w
	}
	if math.Abs(total-1) > 1e-12 { // 32 sums
		t.Errorf("shares add up to %v", total)
	}
}

// Leaving dry holes out biases the map shallow: with deep places known only as dry holes,
// the statement there must deepen once they count.
func TestDryHolesDeepen(t *testing.T) {
	obs := plain(200, 6)
	var kept, withDry []level.Observation
	for _, o := range obs {
		if o.At.X > 12000 && o.DepthM > 9 {
			withDry = append(withDry, level.Observation{At: o.At, State: level.DryTo, DepthM: 9, On: in(time.May)})
			continue
		}
		kept = append(kept, o)
		withDry = append(withDry, o)
	}
	m := fit(t, kept)
	at := variogram.XY{X: 15000, Y: 10000} // truth 10 m
	without, with := predict(t, m, kept, at).Low(0.5), predict(t, m, withDry, at).Low(0.5)
	if !(with > without+0.2) {
		t.Errorf("median low %.2f m without the dry holes, %.2f m with them", without, with)
	}
}

func TestWetSeasonReadingsAreCarriedDown(t *testing.T) {
	dry, wet := plain(100, 7), plain(100, 7)
	for i := range wet {
		wet[i].On = in(time.November) // six months from the low
	}
	at := variogram.XY{X: 10000, Y: 10000}
	atLow := predict(t, fit(t, dry), dry, at).Low(0.5)
	fromHigh := predict(t, fit(t, wet), wet, at).Low(0.5)
	if rise := fromHigh - atLow; rise < 1.5 || rise > 3.5 { // the default range is 2.5 m
		t.Errorf("the same readings taken at the high state a low %.2f m deeper, want about 2.5", rise)
	}
}

func TestFlowingBoresStandAboveGround(t *testing.T) {
	obs := plain(60, 8)
	for i := range obs {
		if obs[i].At.X < 6000 {
			obs[i] = level.Observation{At: obs[i].At, State: level.Flowing}
		}
	}
	s := predict(t, fit(t, obs), obs, variogram.XY{X: 2000, Y: 10000})
	if y := s.Low(0.5); y > 1 || y < -2 {
		t.Errorf("median low among flowing bores is %.2f m", y)
	}
}

func TestTooFewReadings(t *testing.T) {
	_, _, err := level.Fit(t.Context(), plain(5, 9), season())
	if !errors.Is(err, variogram.ErrTooFewData) {
		t.Errorf("error %v, want ErrTooFewData", err)
	}
	if _, _, err := level.Fit(t.Context(), nil, season()); !errors.Is(err, variogram.ErrTooFewData) {
		t.Errorf("no observations: error %v, want ErrTooFewData", err)
	}
}

func BenchmarkPredict(b *testing.B) {
	obs := plain(400, 10)
	m, _, err := level.Fit(b.Context(), obs, season())
	if err != nil {
		b.Fatal(err)
	}
	at := variogram.XY{X: 10000, Y: 10000}
	near := nearest(obs, at, 32)
	for b.Loop() {
		if _, err := m.Predict(near, at, level.Land{}); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleDefaultSeason() {
	s := level.DefaultSeason(-12)
	fmt.Println(s.Low, s.RangeM)
	// Output: November 2.5
}

// in is some day of a month, in a year of which nothing is known.
func in(month time.Month) geo.Date { return geo.Date{Month: int(month)} }
