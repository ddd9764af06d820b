package variogram

import "math"

// Bin is one point of an empirical variogram.
type Bin struct {
	Pairs     int
	DistanceM float64 // mean distance of the pairs in the bin
	Gamma     float64 // semivariance, squared value units
}

// Estimator says how a bin's pairs become one semivariance.
type Estimator int

// The two estimators.
const (
	// Matheron averages squared differences: efficient, moved by single outliers.
	Matheron Estimator = iota
	// CressieHawkins averages square roots of differences: resists outliers.
	CressieHawkins
)

// Empirical measures the semivariance of values at points in distance bins,
//
//	Matheron:        γ = Σ d² / 2N
//	Cressie-Hawkins: γ = (Σ √d / N)⁴ / (2 (0.457 + 0.494/N)),
//
// with d the absolute difference of a pair's values and N the bin's pairs.
//
//   - Shapes: as many values as points; empty bins are left out.
//   - Units: widthM and cutoffM in metres. Bin b holds distances in
//     (b width, (b+1) width]; the first also holds coincident points. Pairs
//     farther apart than the cutoff are left out.
//   - Errors: [ErrTooFewData] below two points or without any pair in reach,
//     [ErrNotFinite], [*ParameterError] for widths not above 0, a cutoff below the
//     width, or slices of unequal length.
//   - Cost: O(n²) time, O(bins) memory.
//   - Source: Matheron (1963); Cressie and Hawkins (1980), eq. 12, denominator cut
//     after 1/N.
//   - Checked by: TestEmpiricalReference, TestEmpiricalBinEdges.
func Empirical(points []XY, values []float64, est Estimator, widthM, cutoffM float64) ([]Bin, error) {
	if err := checkEmpirical(points, values, widthM, cutoffM); err != nil {
		return nil, err
	}
	sums := make([]Bin, binCount(widthM, cutoffM))
	for i, p := range points {
		for j := range i {
			h := p.DistanceTo(points[j])
			if h > cutoffM {
				continue
			}
			b := &sums[min(binIndex(h, widthM), len(sums)-1)]
			b.Pairs++
			b.DistanceM += h
			b.Gamma += est.term(values[i] - values[j])
		}
	}
	return est.finish(sums)
}

func checkEmpirical(points []XY, values []float64, widthM, cutoffM float64) error {
	if err := positive("bin width", widthM); err != nil {
		return err
	}
	if !finite(cutoffM) || cutoffM < widthM {
		return &ParameterError{Name: "cutoff", Value: cutoffM, Want: "at least the bin width"}
	}
	return checkSample(points, values, nil, 2)
}

// binCount covers (0, cutoff] with bins; the last may be cut short.
func binCount(widthM, cutoffM float64) int {
	return max(1, int(math.Ceil(cutoffM/widthM)))
}

// binIndex closes each bin on its right.
func binIndex(h, widthM float64) int {
	b := int(h / widthM)
	if b > 0 && h == float64(b)*widthM {
		b--
	}
	return b
}

func (e Estimator) term(diff float64) float64 {
	if e == CressieHawkins {
		return math.Sqrt(math.Abs(diff))
	}
	return diff * diff
}

// finish turns sums into means and drops empty bins.
func (e Estimator) finish(sums []Bin) ([]Bin, error) {
	var out []Bin
	for _, b := range sums {
		if b.Pairs == 0 {
			continue
		}
		n := float64(b.Pairs)
		b.DistanceM /= n
		b.Gamma /= n
		if e == CressieHawkins {
			b.Gamma = math.Pow(b.Gamma, 4) / (0.457 + 0.494/n)
		}
		b.Gamma /= 2
		out = append(out, b)
	}
	if len(out) == 0 {
		return nil, ErrTooFewData
	}
	return out, nil
}
