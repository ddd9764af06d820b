package krige

import "math"

// triangle is a lower triangular matrix by rows, row i being i+1 numbers from
// i(i+1)/2, with the reciprocals of the diagonal beside it.
type triangle struct {
	n   int
	a   []float64
	inv []float64
}

func (t *triangle) resize(n int) {
	t.n = n
	t.a = grow(t.a, n*(n+1)/2)
	t.inv = grow(t.inv, n)
}

// grow returns a slice of length n with arbitrary contents, reusing s if it can.
func grow(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n, n+n/2)
	}
	return s[:n]
}

func (t *triangle) row(i int) []float64 {
	at := i * (i + 1) / 2
	return t.a[at : at+i+1]
}

// factor replaces the matrix by its Cholesky factor, two rows at a time. It
// returns the largest diagonal element over the smallest squared pivot, a lower
// bound of the condition number, and stops early when that exceeds most.
func (t *triangle) factor(most float64) (condition float64) {
	diag := 0.0
	for i := range t.n {
		diag = max(diag, t.row(i)[i])
	}
	least := math.Inf(1)
	for i := 0; i < t.n; i += 2 {
		a := t.row(i)
		if i+1 == t.n {
			t.sweep(a, i)
			least = min(least, t.pivot(a))
			break
		}
		b := t.row(i + 1)
		t.sweepPair(a, b, i)
		least = min(least, t.pivot(a))
		b[i] = (b[i] - dot(a[:i], b[:i])) * t.inv[i]
		least = min(least, t.pivot(b))
		if !(diag <= most*least) {
			break
		}
	}
	if !(least > 0) { // NaN included
		return math.Inf(1)
	}
	return diag / least
}

// pivot finishes the last element of a row and returns its square.
func (t *triangle) pivot(row []float64) float64 {
	i := len(row) - 1
	d := row[i] - dot(row[:i], row[:i])
	row[i] = math.Sqrt(d)
	t.inv[i] = 1 / row[i]
	return d
}

func dot(a, b []float64) float64 {
	b = b[:len(a)]
	s0, s1 := 0.0, 0.0
	k := 0
	for ; k+1 < len(a); k += 2 {
		s0 += a[k] * b[k]
		s1 += a[k+1] * b[k+1]
	}
	if k < len(a) {
		s0 += a[k] * b[k]
	}
	return s0 + s1
}

// sweep solves the first m rows of the factor against the right-hand side x, in
// place, two unknowns at a time.
func (t *triangle) sweep(x []float64, m int) {
	j := 0
	for ; j+1 < m; j += 2 {
		l0, l1 := t.row(j), t.row(j+1)
		s0, s1 := x[j], x[j+1]
		p, q := l0[:j], l1[:j]
		for k, v := range x[:j] {
			s0 -= p[k] * v
			s1 -= q[k] * v
		}
		s0 *= t.inv[j]
		x[j] = s0
		x[j+1] = (s1 - l1[j]*s0) * t.inv[j+1]
	}
	if j < m {
		x[j] = (x[j] - dot(t.row(j)[:j], x[:j])) * t.inv[j]
	}
}

// sweepPair is sweep for two right-hand sides: two by two unknowns in registers
// halve the loads, which is where the time of a small factorisation goes.
func (t *triangle) sweepPair(x, y []float64, m int) {
	j := 0
	for ; j+1 < m; j += 2 {
		l0, l1 := t.row(j), t.row(j+1)
		x0, x1, y0, y1 := x[j], x[j+1], y[j], y[j+1]
		p, q, v := l0[:j], l1[:j], y[:j]
		for k, u := range x[:j] {
			pk, qk, vk := p[k], q[k], v[k]
			x0 -= pk * u
			x1 -= qk * u
			y0 -= pk * vk
			y1 -= qk * vk
		}
		x0 *= t.inv[j]
		y0 *= t.inv[j]
		x[j], y[j] = x0, y0
		x[j+1] = (x1 - l1[j]*x0) * t.inv[j+1]
		y[j+1] = (y1 - l1[j]*y0) * t.inv[j+1]
	}
	if j < m {
		r := t.row(j)[:j]
		x[j] = (x[j] - dot(r, x[:j])) * t.inv[j]
		y[j] = (y[j] - dot(r, y[:j])) * t.inv[j]
	}
}

// sweepBack solves the transposed factor against x, in place.
func (t *triangle) sweepBack(x []float64) {
	for i := t.n - 1; i >= 0; i-- {
		row := t.row(i)
		x[i] *= t.inv[i]
		for k, v := range row[:i] {
			x[k] -= v * x[i]
		}
	}
}
