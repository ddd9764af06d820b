package variogram

// Part is one correlated structure of a fit.
type Part struct {
	Family          Family  `json:"family"`
	PartialSill     float64 `json:"partialSill"`     // squared value units; 0 when there is no such part
	RangeParameterM float64 `json:"rangeParameterM"` // as the family's constructor takes it; 0 without a part
}

// Report says how a fit went and how far to trust it.
type Report struct {
	Family Family `json:"family"`
	Method Method `json:"method"`

	Micro           float64   `json:"micro"`           // micro-scale variance, squared value units
	PartialSill     float64   `json:"partialSill"`     // 0 when AtPureMicro
	RangeParameterM float64   `json:"rangeParameterM"` // as the family's constructor takes it; 0 when AtPureMicro
	Trend           []float64 `json:"trend"`
	LogLik          float64   `json:"logLik"`

	Second     Part       `json:"second"`     // when asked for and kept; the longer one of two in one family
	SecondGain float64    `json:"secondGain"` // log-likelihood gained by it, kept or not; 0 when not asked for
	Anisotropy Anisotropy `json:"anisotropy"` // zero when not asked for or not kept; ranges are along its azimuth
	BendGain   float64    `json:"bendGain"`   // log-likelihood gained by anisotropy, kept or not; 0 when not asked for

	Bounds       RangeBounds `json:"bounds"` // practical range, metres
	AtMinRange   bool        `json:"atMinRange"`
	AtMaxRange   bool        `json:"atMaxRange"`
	AtLeastRatio bool        `json:"atLeastRatio"` // anisotropy met its bound, [LeastRatio]
	AtZeroMicro  bool        `json:"atZeroMicro"`  // smooth down to the closest data
	AtPureMicro  bool        `json:"atPureMicro"`  // no likeness between any two data
	AtTotal      bool        `json:"atTotal"`      // the total variance met its bound: values vary by rounding only

	MaxRangeLoss float64 `json:"maxRangeLoss"` // log-likelihood lost at the greatest range, all else refitted; at most MostLoss

	Given      int `json:"given"`      // points handed in
	Merged     int `json:"merged"`     // of these, merged into a coincident one
	Thinned    int `json:"thinned"`    // of these, left out to keep the cost down
	Neighbours int `json:"neighbours"` // of each datum in the nearest-neighbour likelihood; 0 when exact
	Starts     int `json:"starts"`     // places refined

	Iterations  int     `json:"iterations"`  // simplex steps over all starts
	Evaluations int     `json:"evaluations"` // likelihoods computed, the coarse scan included
	Condition   float64 `json:"condition"`   // lower bound of the covariance matrix's condition number
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
