package programme

import "math"

// What polishing takes: rows whose prices it can move, and steps.
const (
	polishRows  = 16
	polishSteps = 300
)

// polish lowers a bound further where there are few prices: by the ellipsoid method, each
// step of which halves what may still hold the lowest prices, cut deep by the lowest bound
// known.
//
//   - Source: Shor (1977), Yudin and Nemirovski (1976); deep cuts as in Bland, Goldfarb and
//     Todd (1981), Oper. Res. 29:1039-1091.
//   - Checked by: TestRootBound.
func (r *relaxer) polish(low *lowered, d *domain) {
	n := 1 + r.m.windows + len(r.m.floors)
	if low.prices.worst != nil || n > polishRows || math.IsInf(low.bound, 0) {
		return
	}
	x := &descent{r: r, d: d, totals: make([]float64, r.m.goal.cases)}
	x.now.rows = make([]float64, n)
	e := newEllipsoid(low.prices.vector())
	p := low.prices.clone()
	for range polishSteps {
		depth, slope := 0.0, x.now.rows
		if row, outside := e.outside(r.m, &p); outside != 0 {
			clear(slope)
			slope[row] = outside
		} else {
			p.fill(e.middle)
			got := r.at(&p, d)
			if got.bound < low.bound {
				low.bound, low.prices = got.bound, p.clone()
			}
			x.measure(got)
			depth = got.bound - low.bound
		}
		if !e.cut(slope, depth) {
			return
		}
	}
}

// vector lists the prices of the rows.
func (p *prices) vector() []float64 {
	out := append([]float64{p.money}, p.weeks...)
	return append(out, p.floors...)
}

// fill sets them.
func (p *prices) fill(x []float64) {
	p.money = x[0]
	copy(p.weeks, x[1:])
	copy(p.floors, x[1+len(p.weeks):])
}

// ellipsoid is the set {x : (x-middle)ᵀ P⁻¹ (x-middle) ≤ 1}.
type ellipsoid struct {
	middle []float64
	p      [][]float64
}

// newEllipsoid reaches from some prices to about 0 and their double, and along small ones
// at least a tenth as far as along the largest.
func newEllipsoid(at []float64) *ellipsoid {
	n := len(at)
	e := &ellipsoid{middle: at, p: make([][]float64, n)}
	most := 1.0
	for _, v := range at {
		most = max(most, v)
	}
	for i, v := range at {
		e.p[i] = make([]float64, n)
		reach := max(v, 0.1*most)
		e.p[i][i] = reach * reach * float64(n)
	}
	return e
}

// outside names a row whose price lies where none may, and the side on which: below 0 (-1)
// or above its floor's penalty (1).
func (e *ellipsoid) outside(m *model, p *prices) (row int, side float64) {
	for i, v := range e.middle {
		if v < 0 {
			return i, -1
		}
		if f := i - 1 - len(p.weeks); f >= 0 && v > m.floors[f].penalty {
			return i, 1
		}
	}
	return 0, 0
}

// cut keeps the part where a slope from the middle falls by at least depth, in the least
// ellipsoid around it; false where nothing is left that is worth a step.
func (e *ellipsoid) cut(slope []float64, depth float64) bool {
	n := len(e.middle)
	along := make([]float64, n)
	width := 0.0
	for i := range along {
		for j, g := range slope {
			along[i] += e.p[i][j] * g
		}
		width += along[i] * slope[i]
	}
	width = math.Sqrt(max(width, 0))
	if !(width > 1e-9) || depth >= width {
		return false
	}
	a, k := depth/width, float64(n)
	for i := range along {
		along[i] /= width
		e.middle[i] -= (1 + k*a) / (k + 1) * along[i]
	}
	grow := k * k * (1 - a*a) / (k*k - 1)
	shrink := 2 * (1 + k*a) / ((k + 1) * (1 + a))
	for i := range along {
		for j := range along {
			e.p[i][j] = grow * (e.p[i][j] - shrink*along[i]*along[j])
		}
	}
	return true
}
