package variogram

import "math"

// snap tries each bound exactly: a search from inside only comes near it.
func (s *search) snap(best place) place {
	tries := []func(*place){
		func(p *place) { p.share = 0 },
		func(p *place) { p.share = 1 },
		func(p *place) { p.logA[0] = s.lo.logA[0] },
		func(p *place) { p.logA[0] = s.hi.logA[0] },
	}
	if best.split > 0 {
		tries = append(tries, func(p *place) { p.logA[1] = s.hi.logA[1] })
	}
	if best.logRatio < 0 {
		tries = append(tries, func(p *place) { p.logRatio = math.Log(LeastRatio) })
	}
	for _, move := range tries {
		p := best
		move(&p)
		if s.full != s.middle && s.evaluate(s.middle, p, s.noisy).logLik < s.evaluate(s.middle, best, s.noisy).logLik-1 {
			continue // far off on fewer points: not worth a look at all of them
		}
		if p = s.evaluate(s.full, p, s.noisy); p.logLik > best.logLik-slack {
			best = p
		}
	}
	return best
}

// result solves once more at the winner, for the trend and the condition number.
func (s *search) result(p place, d *dataset) (Model, Report, error) {
	m, err := s.structure(p)
	if err != nil {
		return nil, Report{}, err
	}
	if err := s.full.solve(m, p.anisotropy()); err != nil {
		return nil, Report{}, err
	}
	r := s.report
	r.Family, r.Method, r.Bounds, r.Neighbours = s.family[0], s.method, s.limits, s.neighbours
	r.Micro, r.Trend, r.LogLik, r.Condition = m.Micro(), s.full.trend(), s.full.logLik(s.method), s.full.condition
	r.AtZeroMicro, r.AtPureMicro = p.share == 0, p.share == 1
	r.AtTotal = p.logTotal == s.lo.logTotal || p.logTotal == s.hi.logTotal
	r.Given, r.Merged, r.Thinned = d.given, d.merged, d.thinned
	if !r.AtPureMicro {
		s.describe(p, &r)
	}
	return m, r, nil
}

// describe fills in what is correlated.
func (s *search) describe(p place, r *Report) {
	parts := s.parts(p)
	r.Family, r.PartialSill, r.RangeParameterM = parts[0].Family, parts[0].PartialSill, parts[0].RangeParameterM
	if len(parts) > 1 {
		r.Second = parts[1]
	}
	r.Anisotropy = p.anisotropy()
	r.AtLeastRatio = p.logRatio == math.Log(LeastRatio)
	for k, present := range [2]bool{p.split < 1, p.split > 0} {
		r.AtMinRange = r.AtMinRange || present && p.logA[k] == s.lo.logA[k]
		r.AtMaxRange = r.AtMaxRange || present && p.logA[k] == s.hi.logA[k]
	}
}
