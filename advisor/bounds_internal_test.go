package advisor

import (
	"context"
	"math"
	"os"
	"slices"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/terrain"
)

// Dry holes are bounds of the level; without them it is told worse where nobody reached
// water, and with the land known too shallow. The long run takes the twenty regions of which DEVELOPERS.md tells, the
// short one a region without its elevations, which take most of the time.
func TestBoundsTakenAway(t *testing.T) {
	seeds, sites, surveyed := uint64(1), 100, false
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		seeds, sites, surveyed = 20, 200, true
	}
	var with, without [2]told // at village-like sites, at random ones
	for seed := uint64(1); seed <= seeds; seed++ {
		land := demoland.New(seed)
		bores := land.Records().Bores
		var shape *terrain.Terrain
		if surveyed {
			grid, err := land.Grid(t.Context(), nil)
			if err != nil {
				t.Fatal(err)
			}
			if shape, err = terrain.Derive(t.Context(), grid, terrain.Defaults(), nil); err != nil {
				t.Fatal(err)
			}
		}
		at := [2][]coord.LonLat{land.VillageSites(sites, 2), land.UniformSites(sites, 1)}
		for which, bores := range [][]geo.Bore{bores, unbounded(bores)} {
			a := levelsAlone(t, bores, shape)
			for k, sites := range at {
				to := [2]*told{&with[k], &without[k]}[which]
				for _, site := range sites {
					to.ask(t, a, site, land.Column(site).NormalLowM)
				}
			}
		}
	}
	for k, where := range []string{"village-like", "random"} {
		a, b := &with[k], &without[k]
		t.Logf("%s sites of %d regions: off by %+.2f of %.1f m with dry holes, %+.2f without; CRPS %.3f and %.3f m; 80 %% ranges hold %.3f and %.3f",
			where, seeds, a.off(), middle(a.truth), b.off(), a.crps/a.n, b.crps/b.n, a.held/a.n, b.held/b.n)
	}
	if a, b := &with[1], &without[1]; a.crps >= b.crps || surveyed && math.Abs(a.off()) >= math.Abs(b.off()) {
		t.Errorf("random sites: off by %.2f m with dry holes, %.2f m without; CRPS %.3f and %.3f m", a.off(), b.off(), a.crps/a.n, b.crps/b.n)
	}
}

// unbounded returns bores without what dry holes say of the level.
func unbounded(bores []geo.Bore) []geo.Bore {
	out := slices.Clone(bores)
	for i := range out {
		out[i].Levels = slices.DeleteFunc(slices.Clone(out[i].Levels), func(l geo.Level) bool { return l.State == geo.LevelDryTo })
	}
	return out
}

// levelsAlone is an advisor that states levels and nothing else.
func levelsAlone(t *testing.T, bores []geo.Bore, shape *terrain.Terrain) *Advisor {
	t.Helper()
	s, err := evidence.Load(context.Background(), evidencetest.Bores(bores))
	if err != nil {
		t.Fatal(err)
	}
	if shape != nil {
		s = s.On(shape)
	}
	a := &Advisor{snapshot: s, fits: &fits{}}
	if err := a.fits.fitLevel(context.Background(), a.snapshot, a.rules.Season); err != nil {
		t.Fatal(err)
	}
	return a
}

// told is how stated levels stood beside the truth.
type told struct {
	misses, truth []float64
	crps, held, n float64
}

func (c *told) ask(t *testing.T, a *Advisor, site coord.LonLat, truth float64) {
	t.Helper()
	said, ok, err := a.At(site).Level()
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	const parts = 100
	for k := 1; k < parts; k++ { // twice the mean of the quantile losses, Gneiting and Raftery (2007), section 4.2
		p := float64(k) / parts
		off := truth - said.Low(p)
		c.crps += 2 * math.Max(p*off, (p-1)*off) / (parts - 1)
	}
	if said.Low(0.1) <= truth && truth <= said.Low(0.9) {
		c.held++
	}
	c.misses, c.truth, c.n = append(c.misses, said.Low(0.5)-truth), append(c.truth, truth), c.n+1
}

func (c *told) off() float64 { return middle(c.misses) }

func middle(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	return sorted[len(sorted)/2]
}
