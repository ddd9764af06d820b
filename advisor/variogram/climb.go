package variogram

import "math"

// Tolerances of log-likelihood: enough to rank maxima, and for the winner. Maxima
// closer than rivalry after the first are both taken to the second.
const (
	roughTol = 0.05
	rivalry  = 0.3
	fineTol  = 1e-6
)

// slack is a loss of log-likelihood far below anything that data can tell.
const slack = 1e-5

// run finds the most likely place on the middle points, lets it grow as asked, and
// finishes on all points.
func (s *search) run(d *dataset, opts Options) (place, error) {
	best := s.start(opts)
	solved := !math.IsInf(best.logLik, -1)
	if opts.Anisotropic && solved {
		best = s.bend(best)
	}
	if opts.Second != "" && solved {
		best = s.nest(best)
	}
	if !opts.Compare {
		best = s.stretch(best)
	}
	var err error
	if s.full, err = s.chooseFull(d, opts, best); err != nil {
		return place{}, err
	}
	if s.full != s.middle {
		best = s.finish(best)
	}
	if math.IsInf(best.logLik, -1) { // nothing but unlike values can be solved
		best = s.evaluate(s.full, s.clamp(place{share: 1, logTotal: (s.lo.logTotal + s.hi.logTotal) / 2}), s.noisy)
	}
	if math.IsInf(best.logLik, -1) {
		return place{}, &ConditionError{Number: MaxCondition}
	}
	return s.snap(best), nil
}

// start climbs from where an earlier fit ended, or from the best places of the scan.
func (s *search) start(opts Options) place {
	if from := opts.From; from != nil && from.PartialSill > 0 && from.RangeParameterM > 0 {
		s.report.Starts++
		return s.refine(s.middle, s.placeOf(*from), 1, s.tolerance)
	}
	var starts []place
	for _, p := range s.scan() {
		if len(starts) < opts.Starts {
			starts = append(starts, s.withoutErrors(p))
		}
	}
	return s.climb(starts)
}

// placeOf is where a fit ended, as far as this search may go there.
func (s *search) placeOf(r Report) place {
	total := r.Micro + r.PartialSill
	return s.clamp(place{logA: [2]float64{math.Log(r.RangeParameterM)}, share: r.Micro / total, logTotal: math.Log(total)})
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
			best = highest([]place{best, s.refine(s.middle, p, 1, s.tolerance)})
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
