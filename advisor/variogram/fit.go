package variogram

import (
	"cmp"
	"math"
)

// Options steer [Fit]. The zero value of every field but Family means the default
// named beside it; see [DefaultOptions].
type Options struct {
	Family Family
	Method Method
	// Second asks for a second structure of this family beside the first, with a range
	// of its own; none by default.
	Second Family
	// Anisotropic asks for the azimuth of the longest range and the ratio of ranges.
	Anisotropic bool
	// Drift holds the trend's columns besides the constant, one number per point.
	Drift [][]float64
	// Range bounds the practical range: from a quarter of the median distance to
	// the nearest neighbour to the diagonal of the points' box.
	Range RangeBounds
	// MaxPoints is the most points used (600). More are thinned.
	MaxPoints int
	// ExactPoints is the most points for which the likelihood is exact (2,000). Beyond,
	// each datum knows its nearest Neighbours (30), see [NearestLogLikelihood].
	ExactPoints, Neighbours int
	// Starts is how many of the best distinct grid places are refined (3).
	Starts int
	// From is a fit of much the same data: the search starts where it ended, without a scan.
	// Nil, and a fit without likeness, scan.
	From *Report
	// Tolerance is the difference of log-likelihood that no longer matters (1e-6).
	Tolerance float64
	// Compare leaves out what only says how far the range is known: Report.MaxRangeLoss
	// is then 0.
	Compare bool
	// Seed picks the points that survive thinning.
	Seed uint64
	// Stop is asked before each likelihood; its error ends the search and is that of [Fit].
	// Nil never stops.
	Stop func() error
}

// DefaultOptions returns restricted likelihood, exponential, constant mean, at a cost
// of about 2 s at most. [ForAllPoints] uses every datum instead.
func DefaultOptions() Options {
	return Options{Family: FamilyExponential, Method: REML, MaxPoints: 600, ExactPoints: 2000, Neighbours: 30, Starts: 3, Seed: 1}
}

// ForAllPoints returns DefaultOptions without thinning up to 100,000 points.
func ForAllPoints() Options {
	o := DefaultOptions()
	o.MaxPoints = 100000
	return o
}

// leastPoints is the fewest distinct points a likelihood is asked to judge.
const leastPoints = 10

// Fit estimates micro-scale variance, partial sill and range of one family from
// values at points by maximising [LogLikelihood] with the known reading errors
// on the diagonal; if asked, also a geometric anisotropy and a second structure.
//
// The likelihood is scanned over range and micro-scale share on a sample of at
// most 150 points, and the best distinct places are refined on all points: it may
// have several maxima (spherical) or rise without end as the range grows
// (exponential with a constant mean), so the range is bounded and the report says
// when a bound was met. Above 600 points, places are compared by the nearest-neighbour
// likelihood on at most 2,000, and the best is finished on all.
//
// Anisotropy is tried from four azimuths, a second structure from a longer and a
// shorter range. Each is kept only if it gains more log-likelihood than chance would
// in 95 of 100 regions without it; the report holds the gain either way.
//
//   - Shapes: one value per point; errorVar nil or one per point.
//   - Units: points in metres, errorVar in squared value units.
//   - Domain: at least 10 distinct points (and 5 more than trend columns).
//     Coincident points are merged, see [Merge]. Reading errors left out end up in the
//     micro-scale variance.
//     With anisotropy the model holds in the plane reduced by the report's.
//   - Errors: [ErrTooFewData], [ErrNotFinite], [ErrNoVariation], [*ParameterError],
//     [*ConditionError] for a trend with dependent columns, that of Options.Stop. Otherwise
//     the model is always usable; Report says how far to trust it.
//   - Cost: O(n³) per evaluation up to ExactPoints, O(n) beyond. In CPU time: 400 points
//     take 1 to 2 s, 1,000 (exact) 2 s, 2,000 (exact) 8 s, 10,000 by nearest neighbours
//     6 s, 100,000 about 50 s; the nearest-neighbour part runs on all cores. Anisotropy
//     or a second structure adds as much again, or twice, up to 600 points, and some
//     10 s beyond.
//   - Source: Harville (1974) for the likelihood; Nelder and Mead (1965) for the
//     refinement; the profiled scale is Diggle and Ribeiro (2007), section 5.4.1.
//   - Checked by: TestFitReference, TestFitProfile, TestFitRecoversTruth,
//     TestFitBeatsRandomSearch, TestFitAlwaysUsable, TestFitSaysNotIdentified,
//     TestFitFindsAnisotropy, TestFitKeepsIsotropy, TestFitAnisotropyTurns,
//     TestFitFindsSecondStructure, TestFitKeepsOneStructure, TestFitNearestIsExactFit,
//     TestFitNearestFindsTruth, TestFitBySubset.
func Fit(points []XY, values, errorVar []float64, opts Options) (Model, Report, error) {
	opts = opts.filled()
	if err := opts.check(); err != nil {
		return nil, Report{}, err
	}
	given := &dataset{points: points, values: values, errorVar: errorVar, drift: opts.Drift}
	if err := given.check(); err != nil {
		return nil, Report{}, err
	}
	data, err := prepare(given, opts)
	if err != nil {
		return nil, Report{}, err
	}
	s, err := newSearch(data, opts)
	if err != nil {
		return nil, Report{}, err
	}
	best, err := s.run(data, opts)
	if s.stopped != nil {
		return nil, Report{}, s.stopped
	}
	if err != nil {
		return nil, Report{}, err
	}
	return s.result(best, data)
}

func (o Options) filled() Options {
	d := DefaultOptions()
	o.Family = cmp.Or(o.Family, d.Family)
	o.MaxPoints = cmp.Or(o.MaxPoints, d.MaxPoints)
	o.ExactPoints = cmp.Or(o.ExactPoints, d.ExactPoints)
	o.Neighbours = cmp.Or(o.Neighbours, d.Neighbours)
	o.Starts = cmp.Or(o.Starts, d.Starts)
	o.Tolerance = cmp.Or(o.Tolerance, fineTol)
	return o
}

func (o Options) check() error {
	for name, v := range map[string]int{"greatest number of points": o.MaxPoints, "neighbours": o.Neighbours, "starts": o.Starts} {
		if v < 1 {
			return &ParameterError{Name: name, Value: float64(v), Want: "1 or more"}
		}
	}
	return nil
}

// bounds fills in the default range bounds for the points that are used.
func (d *dataset) bounds(b RangeBounds) (RangeBounds, error) {
	if b.MinM == 0 {
		b.MinM = medianNearest(d.points) / 4
	}
	if b.MaxM == 0 {
		b.MaxM = diagonal(d.points)
	}
	return b, b.check()
}

func diagonal(points []XY) float64 {
	lo, hi := points[0], points[0]
	for _, p := range points {
		lo = XY{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = XY{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return lo.DistanceTo(hi)
}

// totalBounds limits the total variance: values that vary by rounding only would
// otherwise drive it to 0.
func (d *dataset) totalBounds() (lo, hi float64, err error) {
	v := d.variance()
	if v == 0 {
		v = d.meanError()
	}
	if v == 0 {
		return 0, 0, ErrNoVariation
	}
	return v * 1e-6, v * 1e6, nil
}

func (d *dataset) variance() float64 {
	mean, sum := 0.0, 0.0
	for i, z := range d.values {
		mean += (z - mean) / float64(i+1)
	}
	for _, z := range d.values {
		sum += (z - mean) * (z - mean)
	}
	n := float64(len(d.values))
	if sd := math.Sqrt(sum / n); sd <= 1e-15*math.Abs(mean) {
		return 0 // equal but for the rounding of the mean
	}
	return sum / (n - 1)
}

func (d *dataset) meanError() float64 {
	sum := 0.0
	for _, e := range d.errorVar {
		sum += e
	}
	return sum / float64(len(d.values))
}
