package advisor_test

import (
	"math"
	"os"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/method"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/soil"
)

// tally gathers scores against the invented region's truth.
type tally struct {
	sites, inside              int
	bias                       float64
	crps, crpsNear, crpsRegion float64
	brier, brierBase           float64
	says, works                float64
	perMethod                  int
	log, logProfile            float64
	cells                      int
}

// seeds are few in the usual run and ten in the long one.
func seeds() uint64 {
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		return 10
	}
	return 2
}

// The advice on the invented region must be honest against its exact truth: ranges that
// hold, and every score better than what a person without a model would say.
func TestAgainstTheLand(t *testing.T) {
	var village, random tally
	for seed := range seeds() {
		land := demoland.New(seed + 1)
		records := land.Records()
		a := newAdvisor(t, &memory{bores: records.Bores, seq: int64(len(records.Bores))})
		village.score(t, land, records.Bores, a, land.VillageSites(100, 2))
		random.score(t, land, records.Bores, a, land.UniformSites(100, 1))
	}
	village.check(t, "village-like sites")
	random.check(t, "random sites")
}

func (all *tally) check(t *testing.T, where string) {
	t.Helper()
	n := float64(all.sites)
	m := float64(all.perMethod)
	t.Logf("%s (%d). level: 80 %% range holds %.1f %%, bias %+.2f m, CRPS %.3f m (nearest bore %.3f, region %.3f)",
		where, all.sites, 100*float64(all.inside)/n, all.bias/n, all.crps/n, all.crpsNear/n, all.crpsRegion/n)
	t.Logf("chance: Brier %.4f (base rate %.4f), says %.3f, true %.3f", all.brier/m, all.brierBase/m, all.says/m, all.works/m)
	t.Logf("layers: %.3f nats a cell (profile %.3f)", all.log/float64(all.cells), all.logProfile/float64(all.cells))
	if all.crps >= all.crpsNear || all.crps >= all.crpsRegion {
		t.Error("the level is no better than the nearest bore or the region's levels")
	}
	if all.brier >= all.brierBase {
		t.Error("the chance is no better than the base rate")
	}
	if all.log >= all.logProfile {
		t.Error("the layers are no better than the regional profile")
	}
}

func (s *tally) score(t *testing.T, land *demoland.Land, bores []geo.Bore, a *advisor.Advisor, sites []coord.LonLat) {
	t.Helper()
	methods, err := method.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	base := s.baseRates(land, methods, sites)
	levels := levelsOf(bores)
	profile := profileOf(bores)
	for _, site := range sites {
		out := advise(t, a, site.Lon, site.Lat)
		truth := land.Column(site)
		s.level(out, truth.NormalLowM, nearestLevel(bores, site), levels)
		s.layers(out, truth, profile)
		for _, m := range methods {
			works := 0.0
			if land.Succeeds(site, demoland.HandPump(limitsOf(m), m.HoleMM)) {
				works = 1
			}
			p := chanceOf(out, m.Code)
			s.brier += (p - works) * (p - works)
			s.brierBase += (base[m.Code] - works) * (base[m.Code] - works)
			s.says += p
			s.works += works
			s.perMethod++
		}
	}
}

func (s *tally) baseRates(land *demoland.Land, methods []method.Method, sites []coord.LonLat) map[geo.Method]float64 {
	base := map[geo.Method]float64{}
	for _, m := range methods {
		for _, site := range sites {
			if land.Succeeds(site, demoland.HandPump(limitsOf(m), m.HoleMM)) {
				base[m.Code] += 1 / float64(len(sites))
			}
		}
	}
	return base
}

func (s *tally) level(out advisor.Advice, truth, nearest float64, levels []float64) {
	s.sites++
	if out.Water == nil {
		return
	}
	if truth >= out.Water.NormalLow.P10 && truth <= out.Water.NormalLow.P90 {
		s.inside++
	}
	s.bias += out.Water.NormalLow.P50 - truth
	s.crps += crpsOfQuantiles(out.Water.Quantiles, truth)
	s.crpsNear += math.Abs(nearest - truth)
	s.crpsRegion += crpsOfSample(levels, truth)
}

// crpsOfQuantiles is twice the mean pinball loss over the stated quantiles, a coarse
// integral of the score (Gneiting and Raftery 2007, section 4.2).
func crpsOfQuantiles(q advisor.Quantiles, y float64) float64 {
	sum, weight := 0.0, 0.0
	steps := advisor.QuantileSteps()
	edges := [8]float64{0, 0.075, 0.175, 0.375, 0.625, 0.825, 0.925, 1}
	for i, p := range steps {
		loss := (y - q[i]) * p
		if y < q[i] {
			loss = (q[i] - y) * (1 - p)
		}
		w := edges[i+1] - edges[i]
		sum += 2 * loss * w
		weight += w
	}
	return sum / weight
}

func crpsOfSample(x []float64, y float64) float64 {
	a, b := 0.0, 0.0
	for _, v := range x {
		a += math.Abs(v - y)
		for _, w := range x {
			b += math.Abs(v - w)
		}
	}
	n := float64(len(x))
	return a/n - b/(2*n*n)
}

func levelsOf(bores []geo.Bore) (out []float64) {
	for _, b := range bores {
		for _, l := range b.Levels {
			if d, ok := l.DepthM.Get(); ok && l.State == geo.LevelRest {
				out = append(out, d)
			}
		}
	}
	return out[:min(len(out), 200)]
}

func nearestLevel(bores []geo.Bore, at coord.LonLat) float64 {
	best, level := math.Inf(1), 0.0
	for _, b := range bores {
		position, placed := b.Position.Get()
		if !placed {
			continue
		}
		for _, l := range b.Levels {
			d, ok := l.DepthM.Get()
			if dist := coord.DistanceM(position.Pos, at); ok && l.State == geo.LevelRest && dist < best {
				best, level = dist, d
			}
		}
	}
	return level
}

// profileOf is the plain share of each class among the logs that reach a depth.
func profileOf(bores []geo.Bore) (out [80][soil.Count + 1]float64) {
	for i := range out {
		total := 0.0
		for _, b := range bores {
			for _, l := range b.Layers {
				if mid := float64(i)*0.5 + 0.25; l.TopM <= mid && mid < l.BaseM && l.Class != soil.Unknown {
					out[i][l.Class]++
					total++
				}
			}
		}
		for k := range out[i] {
			out[i][k] = (out[i][k] + 0.5) / (total + 0.5*soil.Count)
		}
	}
	return out
}

func (s *tally) layers(out advisor.Advice, truth demoland.Column, profile [80][soil.Count + 1]float64) {
	if out.Odds == nil {
		return
	}
	for i, row := range out.Odds.Odds {
		class := truth.LayerAt(float64(i)*0.5 + 0.25).Class
		s.log -= math.Log(max(row[class-1], 1e-4))
		s.logProfile -= math.Log(max(profile[i][class], 1e-4))
		s.cells++
	}
}

func chanceOf(out advisor.Advice, code geo.Method) float64 {
	for _, m := range out.Methods {
		if m.Method == code {
			return m.Chance
		}
	}
	return 0
}

func limitsOf(m method.Method) demoland.Limits {
	l := demoland.Limits{MaxDepthM: m.MaxDepthM, BelowWaterM: m.BelowWaterM}
	for _, class := range soil.Known() {
		switch g := m.Ground[class]; g.Pace {
		case method.Free:
			l.PassM[class] = math.Inf(1)
		case method.Slow:
			l.PassM[class] = g.CrossableM
		}
	}
	return l
}
