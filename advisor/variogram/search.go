package variogram

import (
	"cmp"
	"math"
	"slices"
)

// coarsePoints is how many points the scan for starting places uses.
const coarsePoints = 150

// place is a parameter vector and its log-likelihood.
type place struct {
	logA, share, logTotal float64
	logLik                float64
}

// search holds one likelihood on all points and one, without reading errors, on a
// sample.
type search struct {
	family         Family
	method         Method
	full, coarse   *system
	noisy          bool // some datum has a reading error: the scale cannot be profiled
	meanError      float64
	limits         RangeBounds
	lo, hi         place // bounds of each coordinate
	evals, iters   int
	starts         int
	practicalRatio float64
}

func newSearch(d *dataset, opts Options) (*search, error) {
	s := &search{family: opts.Family, method: opts.Method, noisy: d.errorVar != nil, meanError: d.meanError()}
	var err error
	if s.practicalRatio, err = opts.Family.practical(); err != nil {
		return nil, err
	}
	if s.limits, err = d.bounds(opts.Range); err != nil {
		return nil, err
	}
	if err = s.setBounds(d); err != nil {
		return nil, err
	}
	if s.full, err = newSystem(d.points, d.values, d.errorVar, d.drift); err != nil {
		return nil, err
	}
	c := d.subset(coarsePoints, opts.Seed)
	if s.coarse, err = newSystem(c.points, c.values, nil, c.drift); err != nil {
		s.coarse, err = newSystem(d.points, d.values, nil, d.drift) // a sample may lose a rare drift value
	}
	return s, err
}

func (s *search) setBounds(d *dataset) error {
	lo, hi, err := d.totalBounds()
	s.lo = place{logA: math.Log(s.limits.MinM / s.practicalRatio), logTotal: math.Log(lo)}
	s.hi = place{logA: math.Log(s.limits.MaxM / s.practicalRatio), share: 1, logTotal: math.Log(hi)}
	return err
}

// structure builds the model at a place.
func (s *search) structure(p place) (Structure, error) {
	total := math.Exp(p.logTotal)
	if p.share == 1 {
		return NewStructure(total)
	}
	part, err := s.family.New(total*(1-p.share), math.Exp(p.logA))
	if err != nil {
		return Structure{}, err
	}
	return NewStructure(total*p.share, part)
}

// evaluate sets the log-likelihood at p, minus infinity where the matrix cannot be
// solved. Without reading errors it also sets the best total variance.
func (s *search) evaluate(sys *system, p place, noisy bool) place {
	s.evals++
	if !noisy {
		p.logTotal = 0
	}
	p.logLik = math.Inf(-1)
	m, err := s.structure(p)
	if err != nil || sys.solve(m, 1) != nil {
		return p
	}
	if noisy {
		p.logLik = sys.logLik(s.method)
		return p
	}
	p.logTotal = min(max(math.Log(sys.bestScale(s.method)), s.lo.logTotal), s.hi.logTotal)
	p.logLik = sys.logLikScaled(s.method, math.Exp(p.logTotal))
	return p
}

// scanRanges is how many ranges the scan tries: fine enough for the ripples of the
// spherical likelihood, some 13 % of the range apart on a span of 50.
const scanRanges = 32

// scan returns the local maxima of the likelihood along the range, best first.
func (s *search) scan() []place {
	ridge := make([]place, scanRanges)
	for i := range ridge {
		a := s.lo.logA + (s.hi.logA-s.lo.logA)*float64(i)/(scanRanges-1)
		ridge[i].logLik = math.Inf(-1)
		for _, share := range []float64{0, 0.05, 0.2, 0.5, 0.85} {
			if p := s.evaluate(s.coarse, place{logA: a, share: share}, false); p.logLik > ridge[i].logLik {
				ridge[i] = p
			}
		}
	}
	tops := make([]place, 0, scanRanges)
	for i, p := range ridge {
		left, right := ridge[max(0, i-1)], ridge[min(i+1, scanRanges-1)]
		if p.logLik >= left.logLik && p.logLik >= right.logLik && !math.IsInf(p.logLik, -1) {
			tops = append(tops, p)
		}
	}
	slices.SortStableFunc(tops, func(a, b place) int { return cmp.Compare(b.logLik, a.logLik) })
	return tops
}

// split takes the mean reading error out of a place found without reading errors.
func (s *search) split(p place) place {
	total := math.Exp(p.logTotal)
	micro := max(0, p.share*total-s.meanError)
	rest := (1 - p.share) * total
	if micro+rest > 0 {
		p.share, p.logTotal = micro/(micro+rest), math.Log(micro+rest)
	}
	return s.clamp(p)
}

func (s *search) clamp(p place) place {
	p.logA = min(max(p.logA, s.lo.logA), s.hi.logA)
	p.share = min(max(p.share, 0), 1)
	p.logTotal = min(max(p.logTotal, s.lo.logTotal), s.hi.logTotal)
	return p
}

// Tolerances of log-likelihood: enough to rank maxima, and for the winner. Maxima
// closer than rivalry after the first are both taken to the second.
const (
	roughTol = 0.05
	rivalry  = 0.3
	fineTol  = 1e-6
)

// run scans, refines the best starts and moves the winner onto bounds it has
// practically reached.
func (s *search) run(opts Options) (place, error) {
	rough := make([]place, 0, opts.Starts)
	for _, start := range s.scan() {
		if len(rough) == opts.Starts {
			break
		}
		rough = append(rough, s.refine(s.split(start), roughTol))
	}
	s.starts = len(rough)
	best := highest(rough)
	for _, p := range rough {
		if p.logLik > highest(rough).logLik-rivalry {
			best = highest([]place{best, s.refine(p, fineTol)})
		}
	}
	if math.IsInf(best.logLik, -1) { // nothing but unlike values can be solved
		best = s.evaluate(s.full, s.clamp(place{share: 1, logTotal: (s.lo.logTotal + s.hi.logTotal) / 2}), s.noisy)
	}
	if math.IsInf(best.logLik, -1) {
		return place{}, &ConditionError{Number: MaxCondition}
	}
	return s.snap(best), nil
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

// snap tries each bound exactly: a search from inside only comes near it.
func (s *search) snap(best place) place {
	tries := []func(*place){
		func(p *place) { p.share = 0 },
		func(p *place) { p.share = 1 },
		func(p *place) { p.logA = s.lo.logA },
		func(p *place) { p.logA = s.hi.logA },
	}
	for _, move := range tries {
		p := best
		move(&p)
		const slack = 1e-5 // of a log-likelihood: far below anything that data can tell
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
	if err := s.full.solve(m, 1); err != nil {
		return nil, Report{}, err
	}
	r := Report{
		Family: s.family, Method: s.method, Bounds: s.limits,
		Micro: m.Micro(), Trend: s.full.trend(), LogLik: s.full.logLik(s.method), Condition: s.full.condition,
		AtZeroMicro: p.share == 0, AtPureMicro: p.share == 1,
		AtTotal: p.logTotal == s.lo.logTotal || p.logTotal == s.hi.logTotal,
		Given:   d.given, Merged: d.merged, Thinned: d.thinned,
		Starts: s.starts, Iterations: s.iters, Evaluations: s.evals,
	}
	if !r.AtPureMicro {
		r.PartialSill, r.RangeParameterM = m.Sill()-m.Micro(), math.Exp(p.logA)
		r.AtMinRange, r.AtMaxRange = p.logA == s.lo.logA, p.logA == s.hi.logA
	}
	return m, r, nil
}
