package hydraulics

import "math"

// line is y = a + b x by least squares, with the covariance of a and b.
type line struct {
	a, b             float64
	varA, varB, covA float64
	rms              float64
	dof              int
	rest             []float64
}

// fitLine fits a straight line; the covariance allows for readings that err alike from one
// to the next.
func fitLine(x, y []float64) (line, error) {
	n := float64(len(x))
	if len(x) < 3 {
		return line{}, ErrTooFew
	}
	mx, my := mean(x), mean(y)
	var sxx, sxy float64
	for i := range x {
		sxx += (x[i] - mx) * (x[i] - mx)
		sxy += (x[i] - mx) * (y[i] - my)
	}
	if !(sxx > 1e-18*n*(1+mx*mx)) {
		return line{}, ErrTooFew // all at one place: no line
	}
	l := line{b: sxy / sxx, dof: len(x) - 2}
	l.a = my - l.b*mx
	rest := make([]float64, len(x))
	for i := range x {
		rest[i] = y[i] - l.a - l.b*x[i]
	}
	rss := sumSquares(rest)
	l.rms, l.rest = math.Sqrt(rss/n), rest
	v := rss / float64(l.dof) * alike(rest)
	l.varA, l.varB, l.covA = v*(1/n+mx*mx/sxx), v/sxx, -v*mx/sxx
	_, err := finite(l.a + l.b + l.varA + l.varB)
	return l, err
}

// alike is the factor by which neighbouring residuals that err alike widen a variance,
// (1+ρ)/(1-ρ) with ρ their correlation, at most 0.9.
//
// Source: Bayley and Hammersley (1946), for a first-order autoregression, from memory.
func alike(rest []float64) float64 {
	rho := min(max(lagOne(rest), 0), 0.9)
	return (1 + rho) / (1 - rho)
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func sumSquares(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	return sum
}

// spread is the standard error of a function of a and b with that gradient.
func (l line) spread(da, db float64) float64 {
	return math.Sqrt(max(0, da*da*l.varA+db*db*l.varB+2*da*db*l.covA))
}
