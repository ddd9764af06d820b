package variogram

// Report says how a fit went and how far to trust it.
type Report struct {
	Family Family
	Method Method

	Micro           float64 // micro-scale variance, squared value units
	PartialSill     float64 // 0 when AtPureMicro
	RangeParameterM float64 // as the family's constructor takes it; 0 when AtPureMicro
	Trend           []float64
	LogLik          float64

	Bounds      RangeBounds // practical range, metres
	AtMinRange  bool
	AtMaxRange  bool
	AtZeroMicro bool // smooth down to the closest data
	AtPureMicro bool // no likeness between any two data
	AtTotal     bool // the total variance met its bound: values vary by rounding only

	Given   int // points handed in
	Merged  int // of these, merged into a coincident one
	Thinned int // of these, left out to keep the cost down
	Starts  int // places refined

	Iterations  int     // simplex steps over all starts
	Evaluations int     // likelihoods computed, the coarse scan included
	Condition   float64 // lower bound of the covariance matrix's condition number
}

// RangeIdentified is false when the data do not say how far likeness reaches: the
// range then stands at a bound, or nothing but micro-scale variance was found.
func (r Report) RangeIdentified() bool {
	return !r.AtMinRange && !r.AtMaxRange && !r.AtPureMicro
}
