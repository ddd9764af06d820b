package advisor

import (
	"os"
	"slices"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/geo"
	"waterstrike/geo/demoland"
)

// The second verdict against water that is known exactly: places that it calls fit are not
// more often unfit than those it knows nothing of, and those that it warns of much more often.
// Two regions; ten in the long run.
func TestQualityAgainstTheLand(t *testing.T) {
	regions := uint64(2)
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		regions = 10
	}
	var places, unfit [3]int
	for seed := range regions {
		land := demoland.New(seed + 101)
		s, err := evidence.Load(t.Context(), evidencetest.Bores(land.Records().Bores))
		if err != nil {
			t.Fatal(err)
		}
		a := &Advisor{snapshot: s}
		for _, at := range append(land.VillageSites(100, 2), land.UniformSites(100, 1)...) {
			i := 2
			switch a.quality(at).Verdict {
			case Fit:
				i = 0
			case NotFit:
				i = 1
			}
			places[i]++
			if !fitToDrink(t, land.Quality(at, land.Column(at).NormalLowM+5)) {
				unfit[i]++
			}
		}
	}
	share := func(i int) float64 { return float64(unfit[i]) / float64(max(places[i], 1)) }
	t.Logf("unfit of places called fit %d of %d, not fit %d of %d, not known %d of %d", unfit[0], places[0], unfit[1], places[1], unfit[2], places[2])
	if places[0] == 0 || places[1] == 0 || share(0) > share(2) || share(1) <= 2*share(2) {
		t.Errorf("unfit: %.2f of those called fit, %.2f not fit, %.2f not known", share(0), share(1), share(2))
	}
}

// fitToDrink holds what is dissolved in water against the limits that the verdict is about:
// for health, and of salt what people accept.
func fitToDrink(t *testing.T, q demoland.Quality) bool {
	t.Helper()
	for name, value := range map[string]float64{"ec": q.ECuScm, "nitrate": q.NitrateMgL, "arsenic": q.ArsenicMgL, "fluoride": q.FluorideMgL} {
		a, _, ok := geo.FindAnalyte(name)
		if !ok {
			t.Fatalf("no analyte %s", name)
		}
		kind := geo.HealthLimit
		if name == "ec" {
			kind = geo.AcceptLimit
		}
		at := slices.IndexFunc(a.Limits, func(l geo.Limit) bool { return l.Kind == kind })
		if at < 0 {
			t.Fatalf("no limit of %s", name)
		}
		limit, ok := a.Limits[at].High.Get()
		if !ok {
			t.Fatalf("the limit of %s is open", name)
		}
		if value > limit {
			return false
		}
	}
	return true
}
