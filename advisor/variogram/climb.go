package variogram

import (
	"math"
	"slices"
)

// Tolerances of log-likelihood: enough to rank maxima, and for the winner. Maxima
// closer than rivalry after the first are both taken to the second. On many points the
// last climb starts beside the top, with shorter edges, and ends where no data could
// tell the difference; shorter still when the middle likelihood saw every point.
const (
	roughTol   = 0.05
	rivalry    = 0.3
	fineTol    = 1e-6
	polishTol  = 1e-3
	polishEdge = 0.4
	finishEdge = 0.15
)

// slack is a loss of log-likelihood far below anything that data can tell.
const slack = 1e-5

// worthKeeping is the gain of log-likelihood below which anisotropy or a second
// structure is not kept: half the 95 % point of chi-squared with the two parameters
// that each costs.
const worthKeeping = 2.996

// run finds the most likely place on the middle points, lets it grow as asked, and
// finishes on all points.
func (s *search) run(d *dataset, opts Options) (place, error) {
	best := s.start(opts)
	if opts.Anisotropic {
		best = s.bend(best)
	}
	if opts.Second != "" {
		best = s.nest(best)
	}
	best = s.stretch(best)
	var err error
	if s.full, err = s.chooseFull(d, opts, best); err != nil {
		return place{}, err
	}
	switch {
	case s.full == s.middle:
	case s.full.n == s.middle.n:
		best = s.refine(s.full, best, finishEdge, polishTol)
	default:
		best = s.refine(s.full, best, polishEdge, polishTol)
	}
	if math.IsInf(best.logLik, -1) { // nothing but unlike values can be solved
		best = s.evaluate(s.full, s.clamp(place{share: 1, logTotal: (s.lo.logTotal + s.hi.logTotal) / 2}), s.noisy)
	}
	if math.IsInf(best.logLik, -1) {
		return place{}, &ConditionError{Number: MaxCondition}
	}
	return s.snap(best), nil
}

// start climbs from the best places of the scan.
func (s *search) start(opts Options) place {
	var starts []place
	for _, p := range s.scan() {
		if len(starts) < opts.Starts {
			starts = append(starts, s.withoutErrors(p))
		}
	}
	return s.climb(starts)
}

// climb returns the top of the best of several starts.
func (s *search) climb(starts []place) place {
	rough := make([]place, len(starts))
	for i, p := range starts {
		rough[i] = s.refine(s.middle, p, 1, roughTol)
	}
	s.report.Starts += len(rough)
	top := highest(rough)
	best := top
	for _, p := range rough {
		if p.logLik > top.logLik-rivalry {
			best = highest([]place{best, s.refine(s.middle, p, 1, fineTol)})
		}
	}
	return best
}

// highest is the first of the most likely places, minus infinity if there is none.
func highest(places []place) place {
	best := place{logLik: math.Inf(-1)}
	for _, p := range places {
		if p.logLik > best.logLik {
			best = p
		}
	}
	return best
}

// bend frees the anisotropy, and keeps it if it is worth its two parameters. The
// likelihood has a top for each way a chance alignment of data can be read, so that
// every azimuth is tried.
func (s *search) bend(best place) place {
	var starts []place
	for azimuth := 0.0; azimuth < 180; azimuth += 45 {
		p := best
		p.azimuthDeg, p.logRatio = azimuth, math.Log(0.6)
		starts = append(starts, p)
	}
	bent := s.grow(best, starts, azimuthOf(), ratioOf())
	s.report.BendGain = bent.logLik - best.logLik
	if s.report.BendGain < worthKeeping {
		s.free = s.free[:len(s.free)-2]
		return best
	}
	return bent
}

// nest frees a second structure, and keeps it if it is worth its two parameters.
func (s *search) nest(best place) place {
	var starts []place
	lo, hi := s.lo.logA[1], s.hi.logA[1]
	practical := best.logA[0] - s.lo.logA[0] + lo // the same practical range in the second family
	for _, away := range []float64{math.Log(4), -math.Log(4)} {
		p := best
		p.logA[1], p.split = min(max(practical+away, lo), hi), 0.4
		starts = append(starts, p)
	}
	nested := s.shortFirst(s.grow(best, starts, rangeOf(1, lo, hi), splitOf()))
	s.report.SecondGain = nested.logLik - best.logLik
	if s.report.SecondGain < worthKeeping {
		s.free = s.free[:len(s.free)-2]
		return best
	}
	return nested
}

// shortFirst exchanges two structures of one family: their order means nothing else.
func (s *search) shortFirst(p place) place {
	if s.family[0] == s.family[1] && p.logA[1] < p.logA[0] {
		p.logA[0], p.logA[1], p.split = p.logA[1], p.logA[0], 1-p.split
	}
	return p
}

// stretch tries the longest range allowed, all else refitted: along a ridge that rises
// without end the simplex stops where it no longer gains, and that may be anywhere.
func (s *search) stretch(best place) place {
	if best.share == 1 || math.IsInf(best.logLik, -1) {
		return best
	}
	p, part := best, 0
	if p.split > 0 {
		part = 1
	}
	far := math.Exp(s.hi.logA[part] - p.logA[part]) // the sill grows with the range, the slope stays
	p.share = p.share / (p.share + (1-p.share)*far)
	p.logTotal += math.Log(far)
	p.logA[part] = s.hi.logA[part]
	free := s.free
	s.free = slices.DeleteFunc(slices.Clone(free), func(c coordinate) bool { return c.at(&p) == &p.logA[part] })
	p = s.refine(s.middle, s.clamp(p), 1, roughTol)
	if p.logLik > best.logLik-rivalry {
		p = s.refine(s.middle, p, 1, fineTol)
	}
	s.free = free
	s.report.MaxRangeLoss = max(0, best.logLik-p.logLik)
	if p.logLik > best.logLik-slack {
		return p
	}
	return best
}

// grow climbs with more coordinates, which can only gain.
func (s *search) grow(best place, starts []place, more ...coordinate) place {
	s.free = append(s.free, more...)
	return highest([]place{best, s.climb(starts)})
}

// cost is minus the log-likelihood at the nearest place inside the bounds, plus
// the squared way there.
func (s *search) cost(sys *system, base place, x []float64) float64 {
	inside := s.clamp(s.decode(base, x))
	y := s.encode(inside)
	outside := 0.0
	for i := range x {
		outside += (x[i] - y[i]) * (x[i] - y[i])
	}
	c := -s.evaluate(sys, inside, s.noisy).logLik
	return min(c, math.MaxFloat64/2) + outside
}

// refine climbs from a start by the simplex method, with a first simplex of the given
// edge, until its corners agree to tol of a log-likelihood.
func (s *search) refine(sys *system, start place, edge, tol float64) place {
	most := 80 * len(s.free) // evaluations
	cost := func(x []float64) float64 { return s.cost(sys, start, x) }
	x, steps := minimise(cost, s.encode(start), edge, tol, most)
	s.report.Iterations += steps
	return s.evaluate(sys, s.clamp(s.decode(start, x)), s.noisy)
}

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
