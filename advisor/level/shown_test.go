package level_test

import (
	"context"
	"errors"
	"math"
	"testing"
	"time"

	"waterstrike/advisor/level"
	"waterstrike/geo"
)

func reported(t *testing.T, obs []level.Observation) level.Report {
	t.Helper()
	_, report, err := level.Fit(t.Context(), obs, season())
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// The land explains the level: beside the trend pairs are far less unlike, and the model,
// which was fitted beside it, runs through those points and not through the others.
func TestShownLikenessIsThatBesideTheTrend(t *testing.T) {
	obs, _ := rising(120, 3, half)
	shown := reported(t, obs).Shown
	if len(shown.Unlike) < 6 {
		t.Fatalf("%d distances", len(shown.Unlike))
	}
	as, beside, model, pairs := 0.0, 0.0, 0.0, 0.0
	last := 0.0
	for _, u := range shown.Unlike {
		if u.DistanceM <= last || u.Pairs < 30 {
			t.Errorf("%d pairs at %v m, after %v m", u.Pairs, u.DistanceM, last)
		}
		last = u.DistanceM
		n := float64(u.Pairs)
		as, beside, model, pairs = as+n*u.Classical, beside+n*u.Beside, model+n*modelAt(shown.Model, u.DistanceM), pairs+n
	}
	t.Logf("as they are %.3f, beside the trend %.3f, model %.3f", as/pairs, beside/pairs, model/pairs)
	if beside > as/3 {
		t.Errorf("half the squared difference is %v as it is and %v beside the trend", as/pairs, beside/pairs)
	}
	if ratio := model / beside; ratio < 0.6 || ratio > 1.7 {
		t.Errorf("the model says %v, the readings %v", model/pairs, beside/pairs)
	}
}

// modelAt interpolates the curve.
func modelAt(curve []level.ModelAt, h float64) float64 {
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1], curve[i]
		if h <= b.DistanceM {
			return a.Gamma + (h-a.DistanceM)/(b.DistanceM-a.DistanceM)*(b.Gamma-a.Gamma)
		}
	}
	return curve[len(curve)-1].Gamma
}

// A reading that is left out is foretold by the others within the range that they state,
// and moving that reading alone moves neither.
func TestShownLeftOut(t *testing.T) {
	obs := plain(150, 4)
	out := reported(t, obs).Shown.LeftOut
	if len(out.Cases) != len(obs) {
		t.Fatalf("%d readings of %d are foretold", len(out.Cases), len(obs))
	}
	held := 0
	for i, c := range out.Cases {
		if c.ReadM != obs[i].DepthM || !(c.P10 < c.P50 && c.P50 < c.P90) {
			t.Errorf("reading %d of %v m: %+v", i, obs[i].DepthM, c)
		}
		if c.P10 <= c.ReadM && c.ReadM <= c.P90 {
			held++
		}
	}
	if got := float64(held) / float64(len(out.Cases)); got != out.Held || got < 0.7 || got > 0.9 {
		t.Errorf("80 %% ranges hold %v, reported %v", got, out.Held)
	}
	if out.OffM < 0.2 || out.OffM > 2 || math.Abs(out.DeeperM) > 0.3 { // 10 % of 4 to 12 m
		t.Errorf("off by %v m, deeper by %v m", out.OffM, out.DeeperM)
	}
}

// Readings of a yearly course show that course by month; without a month they show none.
func TestShownMonths(t *testing.T) {
	obs := yearly(300, 5, 3, int(time.May))
	report := reported(t, obs)
	if !report.Season.Identified {
		t.Fatal("the season is not told")
	}
	readings := 0
	for i, m := range report.Shown.Months {
		readings += m.Readings
		rise, ok := m.RiseM.Get()
		if !ok {
			continue
		}
		said := report.Season.Rise[i] * report.Season.RangeM
		if rise.Lo > rise.Mid || rise.Mid > rise.Hi || math.Abs(rise.Mid-said) > 0.8 {
			t.Errorf("month %d: %+v, the course says %.2f m", i+1, rise, said)
		}
	}
	if readings != 300 {
		t.Errorf("%d readings in all months", readings)
	}
	obs = obs[:60]
	for i := range obs {
		obs[i].On = geo.Date{}
	}
	for _, m := range reported(t, obs).Shown.Months {
		if m.Readings > 0 || m.RiseM.Known() {
			t.Errorf("a month of undated readings: %+v", m)
		}
	}
}

func TestFitEndsWithItsContext(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	obs := plain(400, 2)
	time.AfterFunc(20*time.Millisecond, stop)
	begun := time.Now()
	if _, _, err := level.Fit(ctx, obs, season()); !errors.Is(err, context.Canceled) {
		t.Errorf("the fit ended with %v after %v", err, time.Since(begun))
	}
}

// Where readings that are left out fall within what the others say is counted once each, and
// about evenly: by chi-square of 9 degrees of freedom, whose 99.9 % quantile is 27.9
// (Abramowitz and Stegun, table 26.8).
func TestShownPIT(t *testing.T) {
	left := reported(t, plain(300, 8)).Shown.LeftOut
	total, chi := 0, 0.0
	expected := float64(len(left.Cases)) / float64(len(left.PIT))
	for _, n := range left.PIT {
		total += n
		chi += math.Pow(float64(n)-expected, 2) / expected
	}
	if total != len(left.Cases) || chi > 27.9 {
		t.Errorf("%v of %d readings, chi-square %.1f", left.PIT, len(left.Cases), chi)
	}
}
