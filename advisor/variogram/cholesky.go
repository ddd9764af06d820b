package variogram

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// factorRows is how many rows are factored side by side: with a row above them they fit the
// cache next to the processor.
const factorRows = 32

// factor replaces the lower triangle of a symmetric matrix, given by rows, by its factor L,
// A = LL'; it reports false where the matrix is not positive definite.
//
// Some hundreds of rows are what a fit factors again and again. lapack64.Potrf cuts them into
// blocks of 64 and then copies and scales more than it multiplies: it takes a fifth longer.
//
//   - Cost: n³/3.
//   - Source: Golub and Van Loan (2013), section 4.2, by dot products of rows.
//   - Checked by: TestFactorAgainstLapack, BenchmarkFactor.
func factor(v []float64, n int) bool {
	for top := 0; top < n; top += factorRows {
		for j := range min(top+factorRows, n) {
			row := v[j*n : j*n+j+1]
			if j >= top {
				d := row[j] - floats.Dot(row[:j], row[:j])
				if !(d > 0) {
					return false
				}
				row[j] = math.Sqrt(d)
			}
			per := 1 / row[j]
			for i := max(top, j+1); i < min(top+factorRows, n); i++ {
				below := v[i*n : i*n+j+1]
				below[j] = (below[j] - floats.Dot(row[:j], below[:j])) * per
			}
		}
	}
	return true
}
