package advisor_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

func silent(int, int) {}

func prospects(t *testing.T, a *advisor.Advisor, spots ...coord.LonLat) []advisor.Prospect {
	t.Helper()
	return seeded(t, a, 1, spots...)
}

func seeded(t *testing.T, a *advisor.Advisor, seed uint64, spots ...coord.LonLat) []advisor.Prospect {
	t.Helper()
	out, err := a.Prospects(t.Context(), spots, advisor.ProspectOptions{Seed: seed, Least: 0.05}, silent)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Each spot has the chances that the advice gives there, but for the luck of the draws,
// which means over seeds even out.
func TestProspectsAreTheAdvice(t *testing.T) {
	a := newAdvisor(t, region(t, 120))
	spots := []coord.LonLat{{Lon: 0.08, Lat: 0.2}, {Lon: 0.2, Lat: 0.12}, {Lon: 0.32, Lat: 0.24}}
	const seeds = 6
	const tol = 0.06 // three standard errors: 0.03 between seeds on either side, over six seeds, 0.02
	apart := map[string]float64{}
	for seed := uint64(1); seed <= seeds; seed++ {
		for i, p := range seeded(t, a, seed, spots...) {
			said, err := a.Advise(t.Context(), advisor.Question{At: spots[i], Seed: seed})
			if err != nil {
				t.Fatal(err)
			}
			sameWater(t, i, p.Water, said.Water)
			for _, m := range said.Methods {
				w := wayBy(t, p, m.Method)
				checkWay(t, w)
				apart[fmt.Sprintf("spot %d, %s", i, m.Method)] += (w.Chance - m.Chance) / seeds
			}
		}
	}
	for what, by := range apart {
		if math.Abs(by) > tol {
			t.Errorf("%s: a chance %+.3f from that of the advice", what, by)
		}
	}
}

func sameWater(t *testing.T, spot int, p, said *advisor.Water) {
	t.Helper()
	const level = 1e-3 // m: all spots lie in one plane, an advice in the plane of its own
	if p == nil || math.Abs(p.NormalLow.P50-said.NormalLow.P50)+math.Abs(p.NormalLow.P90-said.NormalLow.P90) > level {
		t.Errorf("spot %d: water %+v, the advice says %+v", spot, p, said)
	}
}

// checkWay holds a way against itself.
func checkWay(t *testing.T, w advisor.Way) {
	t.Helper()
	mean := 0.0
	for _, c := range w.Chances {
		mean += c / advisor.Scenarios
	}
	if len(w.Chances) != advisor.Scenarios || math.Abs(mean-w.Chance) > 1e-9 {
		t.Errorf("%s: %d chances with a mean of %.3f for %.3f", w.Method, len(w.Chances), mean, w.Chance)
	}
	if w.Well.Known() && (w.DrilledM <= 0 || w.Work.DaysOut.P50 <= 0) {
		t.Errorf("%s: drilled %g m in %g days", w.Method, w.DrilledM, w.Work.DaysOut.P50)
	}
}

func wayBy(t *testing.T, p advisor.Prospect, m geo.Method) advisor.Way {
	t.Helper()
	for _, w := range p.Ways {
		if w.Method == m {
			return w
		}
	}
	t.Fatalf("no way by %s", m)
	return advisor.Way{}
}

// Two spots of one village succeed and fail together; the same question gives the same
// answer whatever the processors do.
func TestProspectsGoTogether(t *testing.T) {
	a := newAdvisor(t, region(t, 120))
	at := coord.LonLat{Lon: 0.198, Lat: 0.2}
	near := coord.LonLat{Lon: 0.1983, Lat: 0.2}
	far := coord.LonLat{Lon: 0.201, Lat: 0.06}
	out := prospects(t, a, at, near, far)
	best := out[0].Ways[0].Method
	if r := correlation(wayBy(t, out[0], best).Chances, wayBy(t, out[1], best).Chances); r < 0.6 {
		t.Errorf("33 m apart the chances go together by %.2f", r)
	} else if other := correlation(wayBy(t, out[0], best).Chances, wayBy(t, out[2], best).Chances); other >= r {
		t.Errorf("33 m apart by %.2f, 16 km apart by %.2f", r, other)
	}
	again := prospects(t, a, at, near, far)
	for i := range out {
		for k, w := range out[i].Ways {
			if again[i].Ways[k].Chance != w.Chance {
				t.Errorf("spot %d, %s: %g, then %g", i, w.Method, w.Chance, again[i].Ways[k].Chance)
			}
		}
	}
}

func correlation(x, y []float64) float64 {
	var sx, sy, xx, yy, xy float64
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
		xx, yy, xy = xx+x[i]*x[i], yy+y[i]*y[i], xy+x[i]*y[i]
	}
	n := float64(len(x))
	return (xy - sx*sy/n) / math.Sqrt((xx-sx*sx/n)*(yy-sy*sy/n))
}

func TestProspectsRefuse(t *testing.T) {
	a := newAdvisor(t, region(t, 40))
	_, err := a.Prospects(t.Context(), []coord.LonLat{{Lon: 500}}, advisor.ProspectOptions{}, silent)
	if geo.KindOf(err) != geo.Invalid {
		t.Errorf("off the globe: %v", err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := a.Prospects(ctx, []coord.LonLat{{}}, advisor.ProspectOptions{}, silent); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if out := prospects(t, a); len(out) != 0 {
		t.Errorf("no spot: %v", out)
	}
}
