package variogram

// Method says which likelihood is meant.
type Method int

// The two likelihoods.
const (
	// REML is the likelihood of the contrasts free of the trend.
	REML Method = iota
	// ML is the full likelihood, biased towards low variances.
	ML
)

// Likelihood is a log-likelihood with what was solved on the way.
type Likelihood struct {
	LogLik    float64
	Trend     []float64 // generalised least-squares coefficients, the constant first
	Condition float64   // lower bound of the covariance matrix's condition number
}

// LogLikelihood returns the Gaussian log-likelihood of values at points under
// model m with V = C + diag(errorVar) and trend matrix X,
//
//	ML:   -½ (n log 2π + log|V| + r'V⁻¹r)
//	REML: -½ ((n-q) log 2π + log|V| + log|X'V⁻¹X| - log|X'X| + r'V⁻¹r),
//
// where r is the residual of the generalised least-squares trend.
//
//   - Shapes: one value per point; errorVar nil or one per point; X is a column of
//     ones followed by the drift columns, each one number per point.
//   - Units: errorVar in squared value units.
//   - Domain: micro-scale variances of coincident points are one and the same; for
//     REML, compare only fits with the same X.
//   - Errors: [ErrTooFewData] unless n > q, [ErrNotFinite], [*ParameterError],
//     [*ConditionError] when V or X'V⁻¹X cannot be factored.
//   - Cost: O(n³) time, O(n²) memory.
//   - Source: Harville (1974), Biometrika 61, eq. 2, with the |X'X| term.
//   - Checked by: TestLogLikelihoodReference, TestLogLikelihoodWolfcamp.
func LogLikelihood(points []XY, values, errorVar []float64, drift [][]float64, m Model, method Method) (Likelihood, error) {
	s, err := newSystem(points, values, errorVar, drift)
	if err != nil {
		return Likelihood{}, err
	}
	if err := s.solve(m, 1); err != nil {
		return Likelihood{}, err
	}
	return Likelihood{LogLik: s.logLik(method), Trend: s.trend(), Condition: s.condition}, nil
}
