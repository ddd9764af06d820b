package variogram

// Part is one correlated structure of a fit.
type Part struct {
	Family          Family
	PartialSill     float64 // squared value units; 0 when there is no such part
	RangeParameterM float64 // as the family's constructor takes it; 0 without a part
}

// Report says how a fit went and how far to trust it.
type Report struct {
	Family Family
	Method Method

	Micro           float64 // micro-scale variance, squared value units
	PartialSill     float64 // 0 when AtPureMicro
	RangeParameterM float64 // as the family's constructor takes it; 0 when AtPureMicro
	Trend           []float64
	LogLik          float64

	Second     Part       // when asked for and kept; the longer one of two in one family
	SecondGain float64    // log-likelihood gained by it, kept or not; 0 when not asked for
	Anisotropy Anisotropy // zero when not asked for or not kept; ranges are along its azimuth
	BendGain   float64    // log-likelihood gained by anisotropy, kept or not; 0 when not asked for

	Bounds       RangeBounds // practical range, metres
	AtMinRange   bool
	AtMaxRange   bool
	AtLeastRatio bool // anisotropy met its bound, [LeastRatio]
	AtZeroMicro  bool // smooth down to the closest data
	AtPureMicro  bool // no likeness between any two data
	AtTotal      bool // the total variance met its bound: values vary by rounding only

	MaxRangeLoss float64 // log-likelihood lost at the greatest range, all else refitted; at most MostLoss

	Given      int // points handed in
	Merged     int // of these, merged into a coincident one
	Thinned    int // of these, left out to keep the cost down
	Neighbours int // of each datum in the nearest-neighbour likelihood; 0 when exact
	Starts     int // places refined

	Iterations  int     // simplex steps over all starts
	Evaluations int     // likelihoods computed, the coarse scan included
	Condition   float64 // lower bound of the covariance matrix's condition number
}

// RangeOpenAbove is true when the data set no upper limit to the range: the greatest one
// allowed stands within the 95 % likelihood interval. Predictions between data hardly
// depend on it; the sill and what is said far from data do.
func (r Report) RangeOpenAbove() bool {
	return r.AtMaxRange || !r.AtPureMicro && r.MaxRangeLoss < 1.92
}

// RangeIdentified is false when the data do not say how far likeness reaches: the
// range then stands at a bound, or nothing but micro-scale variance was found.
func (r Report) RangeIdentified() bool {
	return !r.AtMinRange && !r.AtMaxRange && !r.AtPureMicro
}
