package advisor

import (
	"cmp"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// sketcher answers for one place of a surface after another: the grounds of the advice,
// with fewer water levels and a range that no member is drawn for.
type sketcher struct {
	advisor  *Advisor
	drillers []*driller
	seed     uint64

	logs    map[*evidence.Bore]strata.Log // those already read
	tests   map[*evidence.Bore][]hydraulics.Tested
	levels  []sketchLevel
	grounds []weighed
	weights []float64 // of them, add up to 1
	total   float64   // what they added up to before
	works   []works   // by ground, then level
}

// works is the chance of a hole, by band.
type works = [bands]float64

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
	s.load(a.weigh(s.grounds[:0], mixture.Draw(perLog, noLog, rng), near, mixture, rng))
	by := s.drillers[0]
	if water != nil {
		by, out.Chance = s.best(water.Distribution)
	}
	out.Method, out.RefusalM = by.Code, geo.Some(s.refusal(by))
	return out, nil
}

// log reads the log of a bore once, as places side by side have most of them in common.
func (s *sketcher) log(b *evidence.Bore) strata.Log {
	log, ok := s.logs[b]
	if !ok {
		log = s.advisor.log(b)
		s.logs[b] = log
	}
	return log
}

// heard reads what a bore says of conductivity once, likewise.
func (s *sketcher) heard(b *evidence.Bore) []hydraulics.Tested {
	all, ok := s.tests[b]
	if !ok {
		all = heardFrom(b)
		s.tests[b] = all
	}
	return all
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
	s.levels = appendLevels(s.levels[:0], water)
	most := 0.0
	for _, d := range s.drillers {
		s.drill(d)
		if c := s.chance(); best == nil || c > most {
			best, most, said = d, c, geo.Some(s.ranged(c))
		}
	}
	return best, said
}

// drill tries a method in every ground with the water at every level.
func (s *sketcher) drill(d *driller) {
	s.works = s.works[:0]
	for g := range s.grounds {
		ground := &s.grounds[g].ground
		stop := d.StoppedIn(ground.classes[:], strata.CellM)
		for i := range s.levels {
			l := &s.levels[i]
			s.works = append(s.works, d.tryTo(stop, ground, l.lowM, l.designM).works)
		}
	}
}

// in returns what was found in a ground, by level.
func (s *sketcher) in(g int) []works { return s.works[g*len(s.levels):][:len(s.levels)] }

// chance is the mean over grounds and levels.
func (s *sketcher) chance() (c float64) {
	for g, w := range s.weights {
		for i, p := range s.in(g) {
			c += w * s.levels[i].odds * mean(p)
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
