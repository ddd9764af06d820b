package advisor

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// sketcher answers for one place of a surface after another: the grounds of the advice,
// with fewer water levels and a range that no member is drawn for.
type sketcher struct {
	*sketchReader
	drillers []*driller
	seed     uint64

	lows    []sketchLevel
	grounds []weighed
	weights []float64 // of them, add up to 1
	total   float64   // what they added up to before
	trial   trial
	works   []works // by ground, then level
}

// works is the chance of a hole, by band.
type works [bands]float64

// spot answers for one place.
func (s *sketcher) spot(at coord.LonLat) (out Spot, err error) {
	if !at.Valid() {
		return out, nil
	}
	a := s.advisor
	near := a.gatherIn(at, coord.NewPlane(at), s)
	water, err := a.water(near)
	if err != nil {
		return out, err
	}
	mixture := a.layers(near)
	out.Bores = a.boresNear(near, water, mixture)
	out.Few = out.Bores.Effective() < a.rules.Thresholds.Effective
	if water != nil {
		out.DesignLowM = geo.Some(Spread{water.DesignLow(water.Low(0.5)), water.DesignLow(water.Low(0.1)), water.DesignLow(water.Low(0.9))})
	}
	if mixture == nil || water == nil && len(s.drillers) > 1 {
		return out, nil
	}
	rng := seeded(Question{At: at, Seed: s.seed})
	s.load(a.weigh(s.grounds[:0], mixture.Draw(noLog, rng), near, mixture, rng, s.cells()))
	by := s.drillers[0]
	if water != nil {
		by, out.Chance = s.best(water.Distribution)
	}
	out.Method, out.RefusalM = by.Code, geo.Some(s.refusal(by))
	return out, nil
}

// cells is how many of a ground any of the methods may reach.
func (s *sketcher) cells() (n int) {
	for _, d := range s.drillers {
		n = max(n, d.cells())
	}
	return min(n, strata.Cells)
}

func (s *sketcher) load(grounds []weighed) {
	s.grounds, s.weights, s.total = grounds, s.weights[:0], 0
	for _, g := range grounds {
		w := max(g.weight, leastWeight)
		s.weights, s.total = append(s.weights, w), s.total+w
	}
	normalise(s.weights)
}

// best returns the method with the best chance, and that.
func (s *sketcher) best(water level.Distribution) (best *driller, said geo.Opt[Spread]) {
	s.lows = appendLevels(s.lows[:0], water)
	most := 0.0
	for _, d := range s.drillers {
		s.drill(d)
		if c := s.chance(); best == nil || c > most {
			best, most, said = d, c, geo.Some(s.ranged(c))
		}
	}
	return best, said
}

// drill tries a method in every ground with the water at every level; between two levels
// that come to nearly the same it takes the mean of them.
func (s *sketcher) drill(d *driller) {
	n := len(s.lows)
	s.works = slices.Grow(s.works[:0], n*len(s.grounds))[:n*len(s.grounds)]
	for g := range s.grounds {
		s.trial.begin(d, &s.grounds[g].ground)
		works := s.in(g)
		for i := 0; i < n; i += 2 {
			works[i] = s.tryAt(i)
		}
		for i := 1; i < n; i += 2 {
			if i+1 == n || !works[i].between(&works[i-1], &works[i+1]) {
				works[i] = s.tryAt(i)
			}
		}
	}
}

func (s *sketcher) tryAt(i int) works { return s.trial.at(s.lows[i].lowM, s.lows[i].designM).works }

// nearly is how far two chances may lie apart for that between them not to be asked for.
const nearly = 0.02

// between sets the chances in the middle of two others; it reports false where these differ.
func (w *works) between(a, b *works) bool {
	for i := range w {
		if math.Abs(a[i]-b[i]) > nearly {
			return false
		}
		w[i] = (a[i] + b[i]) / 2
	}
	return true
}

// in returns what was found in a ground, by level.
func (s *sketcher) in(g int) []works { return s.works[g*len(s.lows):][:len(s.lows)] }

// chance is the mean over grounds and levels.
func (s *sketcher) chance() (c float64) {
	for g, w := range s.weights {
		for i, p := range s.in(g) {
			c += w * s.lows[i].odds * mean(p)
		}
	}
	return c
}

// refusal is how deep the grounds let a method go.
func (s *sketcher) refusal(d *driller) Spread {
	type reach struct{ depthM, weight float64 }
	all := make([]reach, len(s.grounds))
	for g := range all {
		all[g] = reach{min(d.MaxDepthM, strata.Cells*strata.CellM), s.weights[g]}
		if stop := d.StoppedIn(s.grounds[g].classes[:], strata.CellM); stop.By != soil.Unknown {
			all[g].depthM = min(all[g].depthM, stop.DepthM)
		}
	}
	slices.SortStableFunc(all, func(a, b reach) int { return cmp.Compare(a.depthM, b.depthM) })
	quantile := func(p float64) float64 {
		for _, r := range all {
			if p -= r.weight; p < 0 {
				return r.depthM
			}
		}
		return all[len(all)-1].depthM
	}
	return Spread{quantile(0.5), quantile(0.1), quantile(0.9)}
}
