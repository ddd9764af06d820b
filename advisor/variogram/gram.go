package variogram

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// gram factors [X z]'[X z] of the rows in w. The factor's last pivot is the
// length of the residual.
func (s *system) gram() error {
	p := s.q + 1
	w := blas64.General{Rows: s.n, Cols: p, Stride: p, Data: s.w}
	a := blas64.Symmetric{N: p, Stride: p, Uplo: blas.Lower, Data: s.a}
	blas64.Syrk(blas.Trans, 1, w, 0, a)
	s.logDetA = 0
	for i := range p {
		d := s.pivot(i)
		if i == s.q {
			s.square = max(0, d) // a value vector inside the trend leaves only rounding
			return nil
		}
		if scale := s.columnSquare(i); !(d > scale*1e-14) {
			return &ConditionError{Number: scale / max(d, math.SmallestNonzeroFloat64)}
		}
		s.logDetA += math.Log(d)
		s.a[i*p+i] = math.Sqrt(d)
		for r := i + 1; r < p; r++ {
			s.a[r*p+i] = (s.a[r*p+i] - blas64.Dot(s.rowA(r, i), s.rowA(i, i))) / s.a[i*p+i]
		}
	}
	return nil
}

// pivot is the squared pivot of row i of the small factor.
func (s *system) pivot(i int) float64 {
	return s.a[i*(s.q+1)+i] - blas64.Dot(s.rowA(i, i), s.rowA(i, i))
}

func (s *system) rowA(r, n int) blas64.Vector {
	return blas64.Vector{N: n, Inc: 1, Data: s.a[r*(s.q+1):]}
}

func (s *system) columnSquare(i int) float64 {
	col := blas64.Vector{N: s.n, Inc: s.q + 1, Data: s.w[i:]}
	return blas64.Dot(col, col)
}
