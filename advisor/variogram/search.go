package variogram

import (
	"cmp"
	"math"
	"slices"
)

// How many points each stage of a search uses at most: the scan for starting places,
// the choice between them, and, beyond that, one last climb on all points.
const (
	coarsePoints = 150
	middlePoints = 2000
	smallPoints  = 600 // up to here, exact on all points from the second stage on
)

// search holds the likelihoods of one fit: without reading errors on a sample, and two
// in full, which are one and the same for few points.
type search struct {
	family       [2]Family // of the first and, if any, the second structure
	method       Method
	free         []coordinate
	noisy        bool // some datum has a reading error: the scale cannot be profiled
	meanError    float64
	limits       RangeBounds
	lo, hi       place // bounds of the scan
	coarse       *system
	middle, full *system
	neighbours   int // of the full likelihood, 0 if exact
	tolerance    float64
	report       Report
	stop         func() error // nil never stops
	stopped      error        // by stop: all likelihoods are minus infinity since
}

func newSearch(d *dataset, opts Options) (*search, error) {
	s := &search{family: [2]Family{opts.Family, opts.Second}, method: opts.Method, noisy: d.errorVar != nil, meanError: d.meanError(), tolerance: opts.Tolerance, stop: opts.Stop}
	if err := s.setBounds(d, opts); err != nil {
		return nil, err
	}
	s.free = []coordinate{rangeOf(0, s.lo.logA[0], s.hi.logA[0]), shareOf()}
	if s.noisy {
		s.free = append(s.free, totalOf(s.lo.logTotal, s.hi.logTotal))
	}
	c := d.subset(coarsePoints, opts.Seed)
	var err error
	if s.coarse, err = newSystem(c.withoutErrors(), newDense(c.withoutErrors())); err != nil {
		all := d.subset(middlePoints, opts.Seed).withoutErrors() // a sample may lose a rare drift value
		s.coarse, err = newSystem(all, newDense(all))
	}
	if err != nil {
		return nil, err
	}
	s.middle, err = s.chooseMiddle(d, opts)
	return s, err
}

// chooseMiddle is the likelihood on which starts and structures are compared.
func (s *search) chooseMiddle(d *dataset, opts Options) (*system, error) {
	if len(d.points) <= smallPoints {
		return newSystem(d, newDense(d))
	}
	white, ordered := newVecchia(d.subset(middlePoints, opts.Seed), opts.Neighbours, Anisotropy{})
	return newSystem(ordered, white)
}

// chooseFull is the likelihood of the answer.
func (s *search) chooseFull(d *dataset, opts Options, best place) (*system, error) {
	switch n := len(d.points); {
	case n <= smallPoints:
		return s.middle, nil
	case n <= opts.ExactPoints:
		return newSystem(d, newDense(d))
	}
	s.neighbours = opts.Neighbours
	white, ordered := newVecchia(d, opts.Neighbours, best.anisotropy())
	return newSystem(ordered, white)
}

func (s *search) setBounds(d *dataset, opts Options) error {
	lo, hi, err := d.totalBounds()
	if err != nil {
		return err
	}
	s.lo.logTotal, s.hi.logTotal = math.Log(lo), math.Log(hi)
	if s.limits, err = d.bounds(opts.Range); err != nil {
		return err
	}
	for k, family := range s.family {
		if k == 1 && family == "" {
			break
		}
		ratio, err := family.practical()
		if err != nil {
			return err
		}
		s.lo.logA[k], s.hi.logA[k] = math.Log(s.limits.MinM/ratio), math.Log(s.limits.MaxM/ratio)
	}
	s.hi.share = 1
	return nil
}

// evaluate sets the log-likelihood at p, minus infinity where the matrix cannot be
// solved. Without reading errors it also sets the best total variance.
func (s *search) evaluate(sys *system, p place, noisy bool) place {
	s.report.Evaluations++
	if !noisy {
		p.logTotal = 0
	}
	p.logLik = math.Inf(-1)
	if s.stopped == nil && s.stop != nil {
		s.stopped = s.stop()
	}
	if s.stopped != nil {
		return p
	}
	m, err := s.structure(p)
	if err != nil || sys.solve(m, p.anisotropy()) != nil || sys.condition > MaxCondition/2 {
		return p // half, so that the answer can be solved again on its own scale
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
		a := s.lo.logA[0] + (s.hi.logA[0]-s.lo.logA[0])*float64(i)/(scanRanges-1)
		ridge[i].logLik = math.Inf(-1)
		for _, share := range []float64{0, 0.05, 0.2, 0.5, 0.85} {
			if p := s.evaluate(s.coarse, place{logA: [2]float64{a}, share: share}, false); p.logLik > ridge[i].logLik {
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

// withoutErrors takes the mean reading error out of a place found without reading
// errors.
func (s *search) withoutErrors(p place) place {
	total := math.Exp(p.logTotal)
	micro := max(0, p.share*total-s.meanError)
	rest := (1 - p.share) * total
	if micro+rest > 0 {
		p.share, p.logTotal = micro/(micro+rest), math.Log(micro+rest)
	}
	return s.clamp(p)
}
