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
//   - Cost: O(n³) time, O(n²) memory; 2,000 points take about 0.6 s.
//   - Source: Harville (1974), Biometrika 61, eq. 2, with the |X'X| term.
//   - Checked by: TestLogLikelihoodReference, TestLogLikelihoodWolfcamp.
func LogLikelihood(points []XY, values, errorVar []float64, drift [][]float64, m Model, method Method) (Likelihood, error) {
	d := &dataset{points: points, values: values, errorVar: errorVar, drift: drift}
	if err := d.check(); err != nil {
		return Likelihood{}, err
	}
	return d.likelihood(newDense(d), m, method)
}

// NearestLogLikelihood approximates [LogLikelihood] by letting each datum, in an order
// where each lies far from all before it, depend on its nearest predecessors N alone,
//
//	p(z) ≈ Π p(zᵢ | z_N(i)).
//
// With n-1 neighbours it is exact.
//
//   - Shapes, Units: as LogLikelihood; neighbours is how many each datum has.
//   - Domain: at 500 to 800 points 30 neighbours are within 1 of the exact log-likelihood for
//     the Matérn models, within 10 for the spherical, whose far data keep telling; see
//     TestNearestLikelihoodIsNearExact. Either way the best model is the same on
//     average, as each factor is a true density; a spherical one may differ by 20 %.
//   - Errors: as LogLikelihood; [*ParameterError] for fewer than one neighbour. The
//     condition number is that of the worst datum with its neighbours.
//   - Cost: O(n neighbours³) time, O(n neighbours) memory; 100,000 points with 30
//     neighbours take about 2 s of CPU time, half of it for the order and the search.
//   - Source: Vecchia (1988), J. R. Statist. Soc. B 50, eq. 3; the restricted form is
//     Stein, Chi and Welty (2004), J. R. Statist. Soc. B 66, section 3; the order is
//     Guinness (2018), Technometrics 60.
//   - Checked by: TestNearestLikelihoodExactWithAll, TestNearestLikelihoodIsNearExact.
func NearestLogLikelihood(points []XY, values, errorVar []float64, drift [][]float64, m Model, method Method, neighbours int) (Likelihood, error) {
	if neighbours < 1 {
		return Likelihood{}, &ParameterError{Name: "neighbours", Value: float64(neighbours), Want: "1 or more"}
	}
	d := &dataset{points: points, values: values, errorVar: errorVar, drift: drift}
	if err := d.check(); err != nil {
		return Likelihood{}, err
	}
	white, d := newVecchia(d, min(neighbours, len(points)-1), Anisotropy{})
	return d.likelihood(white, m, method)
}

func (d *dataset) likelihood(white whitener, m Model, method Method) (Likelihood, error) {
	s, err := newSystem(d, white)
	if err != nil {
		return Likelihood{}, err
	}
	if err := s.solve(m, Anisotropy{}); err != nil {
		return Likelihood{}, err
	}
	return s.likelihood(method), nil
}
