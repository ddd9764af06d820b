package variogram

import "math"

// Weighting says how much each bin counts in [FitBins].
type Weighting int

// The weightings: N pairs, mean distance h, model semivariance γ.
const (
	// ByPairsOverDistance is N/h²: near bins decide. Practice, not theory.
	ByPairsOverDistance Weighting = iota
	// ByPairs is N.
	ByPairs
	// ByPairsOverGamma is N/γ(h)², with γ from the fit itself (Cressie's weights).
	ByPairsOverGamma
	// Unweighted counts every bin once.
	Unweighted
)

// RangeBounds limits the practical range of a fit, in metres. A zero bound is
// replaced by a default taken from the data.
type RangeBounds struct {
	MinM, MaxM float64
}

// BinReport says how a fit to bins went.
type BinReport struct {
	Nugget, PartialSill float64 // squared value units
	RangeParameterM     float64
	SquareSum           float64 // weighted sum of squared residuals
	AtMinRange          bool    // the range is not identified from below
	AtMaxRange          bool    // the range is not identified from above
	Iterations          int     // rounds of reweighting, 1 unless weights depend on the fit
	Converged           bool
}

// FitBins fits micro-scale variance (the bins cannot tell it from reading error),
// partial sill and range of one family to an empirical variogram by weighted
// least squares,
//
//	min Σ wⱼ (γ̂ⱼ - γ(hⱼ))²,  nugget, partial sill >= 0.
//
// The two variances are solved exactly for each range and the range is searched
// on a grid and refined, so that no starting value is needed.
//
//   - Shapes: at least three bins.
//   - Units: as the bins.
//   - Domain: practical range within bounds; by default from half the first
//     bin's distance to ten times the last one's.
//   - Errors: [ErrTooFewData] below three bins, [ErrNotFinite], [ErrNoVariation] when
//     every semivariance is 0, [*ParameterError] for bad bounds or family.
//   - Source: Cressie (1985), Math. Geology 17, eq. 3 for [ByPairsOverGamma], taken
//     as the fixed point of reweighting; the others are common practice.
//   - Checked by: TestFitBinsReference, TestFitBinsRecoversModel.
func FitBins(bins []Bin, family Family, w Weighting, bounds RangeBounds) (Structure, BinReport, error) {
	f, err := newBinFit(bins, family, bounds)
	if err != nil {
		return Structure{}, BinReport{}, err
	}
	first := w
	if w == ByPairsOverGamma {
		first = ByPairsOverDistance
	}
	rep := f.round(first, nil)
	for w == ByPairsOverGamma && !rep.Converged && rep.Iterations < 200 {
		rep = f.reweigh(rep)
	}
	rep.Converged = rep.Converged || w != ByPairsOverGamma
	part, err := family.New(rep.PartialSill, rep.RangeParameterM)
	if err != nil { // a flat variogram: nothing but nugget
		s, err := NewStructure(rep.Nugget)
		return s, rep, err
	}
	s, err := NewStructure(rep.Nugget, part)
	return s, rep, err
}

type binFit struct {
	bins   []Bin
	family Family
	lo, hi float64 // range parameter
}

func newBinFit(bins []Bin, family Family, b RangeBounds) (*binFit, error) {
	factor, err := family.practical()
	if err != nil {
		return nil, err
	}
	if err := checkBins(bins); err != nil {
		return nil, err
	}
	if b.MinM == 0 {
		b.MinM = bins[0].DistanceM / 2
	}
	if b.MaxM == 0 {
		b.MaxM = 10 * bins[len(bins)-1].DistanceM
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	return &binFit{bins: bins, family: family, lo: b.MinM / factor, hi: b.MaxM / factor}, nil
}

func (b RangeBounds) check() error {
	if err := positive("least range", b.MinM); err != nil {
		return err
	}
	if !finite(b.MaxM) || b.MaxM <= b.MinM {
		return &ParameterError{Name: "greatest range", Value: b.MaxM, Want: "above the least range"}
	}
	return nil
}

func checkBins(bins []Bin) error {
	if len(bins) < 3 {
		return ErrTooFewData
	}
	sum := 0.0
	for _, b := range bins {
		if !finite(b.DistanceM) || !finite(b.Gamma) || b.Gamma < 0 {
			return ErrNotFinite
		}
		if b.Pairs < 1 || b.DistanceM <= 0 {
			return &ParameterError{Name: "bin distance", Value: b.DistanceM, Want: "pairs at a distance above 0"}
		}
		sum += b.Gamma
	}
	if sum == 0 {
		return ErrNoVariation
	}
	return nil
}

// reweigh fits again with weights taken from the former fit.
func (f *binFit) reweigh(old BinReport) BinReport {
	rep := f.round(ByPairsOverGamma, &old)
	rep.Iterations = old.Iterations + 1
	const tol = 1e-9 // far below the third digit, the last that means anything
	near := func(a, b float64) bool { return math.Abs(a-b) <= tol*(math.Abs(a)+math.Abs(b)) }
	rep.Converged = near(rep.RangeParameterM, old.RangeParameterM) &&
		near(rep.PartialSill, old.PartialSill) && near(rep.Nugget, old.Nugget)
	return rep
}

func (f *binFit) round(w Weighting, old *BinReport) BinReport {
	weights := f.weights(w, old)
	cost := func(logA float64) float64 { return f.solve(math.Exp(logA), weights).SquareSum }
	lo, hi := math.Log(f.lo), math.Log(f.hi)
	x := minimiseOnLine(cost, lo, hi, 200)
	rep := f.solve(math.Exp(x), weights)
	rep.Iterations = 1
	rep.AtMinRange, rep.AtMaxRange = x == lo, x == hi
	return rep
}

func (f *binFit) weights(w Weighting, old *BinReport) []float64 {
	out := make([]float64, len(f.bins))
	for i, b := range f.bins {
		switch w {
		case ByPairs:
			out[i] = float64(b.Pairs)
		case ByPairsOverDistance:
			out[i] = float64(b.Pairs) / (b.DistanceM * b.DistanceM)
		case ByPairsOverGamma:
			g := old.Nugget + old.PartialSill*f.unitGamma(old.RangeParameterM, b.DistanceM)
			out[i] = float64(b.Pairs) / (g * g)
		default:
			out[i] = 1
		}
	}
	return out
}

func (f *binFit) unitGamma(a, h float64) float64 {
	m, err := f.family.New(1, a)
	if err != nil {
		panic("variogram: range left its checked bounds: " + err.Error())
	}
	return m.Gamma(h)
}

// solve returns the best nugget and partial sill, neither negative, for a range.
func (f *binFit) solve(a float64, weights []float64) BinReport {
	var sw, sg, sgg, sy, sgy float64
	for i, b := range f.bins {
		g, w := f.unitGamma(a, b.DistanceM), weights[i]
		sw += w
		sg += w * g
		sgg += w * g * g
		sy += w * b.Gamma
		sgy += w * g * b.Gamma
	}
	best := BinReport{SquareSum: math.Inf(1)}
	det := sw*sgg - sg*sg
	for _, c := range [][2]float64{
		{(sgg*sy - sg*sgy) / det, (sw*sgy - sg*sy) / det},
		{0, sgy / sgg},
		{sy / sw, 0},
	} {
		if !(c[0] >= 0 && c[1] >= 0) || !finite(c[0]+c[1]) {
			continue
		}
		if ss := f.squareSum(a, c, weights); ss < best.SquareSum {
			best = BinReport{Nugget: c[0], PartialSill: c[1], RangeParameterM: a, SquareSum: ss}
		}
	}
	return best
}

func (f *binFit) squareSum(a float64, c [2]float64, weights []float64) float64 {
	sum := 0.0
	for i, b := range f.bins {
		r := b.Gamma - c[0] - c[1]*f.unitGamma(a, b.DistanceM)
		sum += weights[i] * r * r
	}
	return sum
}
