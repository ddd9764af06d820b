package level

import (
	"math"
	"math/rand/v2"

	"waterstrike/advisor/near"
	"waterstrike/advisor/variogram"

	"gonum.org/v1/gonum/mat"
)

// Place is one of several points that are asked about together.
type Place struct {
	At   variogram.XY
	Near []Observation // as for [Model.Predict], in the plane of all places
	Land Land
}

// Together draws pictures of what is not known of the surface at several places at once,
//
//	z(s) = (ε(s) + d(s)·β) / √FieldVar(s),  ε(s) = Y(s) - Σᵢ λᵢ (Y(xᵢ) + eᵢ),
//
// where Y is one unconditional draw of the field over all places and readings, λ the
// weights by which [Model.Predict] answers, e the errors of the readings, in part those of
// season and years, which they share, and β what is not known of the slopes. So places near each other err together as far as the model says, and
// at each place the draws are those that [Distribution.LowOf] takes. They are shifted and
// scaled to a mean of 0 and a variance of 1 over the pictures of a place, so that few
// pictures give its chance without noise.
//
//   - Shapes: one row of n draws for each statement; n at least 2. Statements in the order
//     of the places.
//   - Units: metres in one plane; draws in standard deviations of the surface.
//   - Errors: as [Model.Predict], of the first place that fails.
//   - Cost: that of [Model.Predict] for each place, and 32 neighbours for each place and
//     reading.
//   - Source: conditioning by kriging, Journel and Huijbregts (1978), Mining
//     Geostatistics, chapter VII; the draw by nearest neighbours, Vecchia (1988).
//   - Checked by: TestTogetherIsEachAlone, TestTogetherFollowsTheModel.
func (m *Model) Together(places []Place, n int, rng *rand.Rand) ([]Statement, [][]float64, error) {
	t := &togetherness{model: m, at: map[variogram.XY]int{}, noise: map[Observation]int{}}
	statements := make([]Statement, len(places))
	for i, p := range places {
		s, err := t.ask(p)
		if err != nil {
			return nil, nil, err
		}
		statements[i] = s
	}
	return statements, t.draw(n, rng), nil
}

// togetherness gathers what the errors of all places are made of.
type togetherness struct {
	model  *Model
	nodes  []variogram.XY // where the field is drawn
	at     map[variogram.XY]int
	noise  map[Observation]int // readings, whose errors are shared
	errVar []float64           // of each reading
	rows   []errorRow
}

// errorRow is the error of one place as a sum of what is drawn.
type errorRow struct {
	node          int
	weights       []float64
	nodes, noises []int // of each weight
	beside        []float64
	extra         float64 // variance of its own
	wider         float64 // factor of all variances but the shared ones
	shared        shared
}

func (t *togetherness) node(at variogram.XY) int {
	if i, ok := t.at[at]; ok {
		return i
	}
	t.at[at] = len(t.nodes)
	t.nodes = append(t.nodes, at)
	return len(t.nodes) - 1
}

// ask answers at one place and keeps how its answer may err.
func (t *togetherness) ask(p Place) (Statement, error) {
	m := t.model
	a, err := m.solve(p.Near, p.At, p.Land)
	if err != nil {
		return Statement{}, err
	}
	row := errorRow{node: t.node(p.At), weights: a.weights, beside: a.beside, extra: a.extra, wider: a.wider, shared: a.shared}
	for i, k := range a.place {
		o := p.Near[k]
		noise, known := t.noise[o]
		if !known {
			noise = len(t.errVar)
			t.noise[o] = noise
			t.errVar = append(t.errVar, a.errVars[i]+m.micro)
		}
		row.nodes, row.noises = append(row.nodes, t.node(o.At)), append(row.noises, noise)
	}
	t.rows = append(t.rows, row)
	return a.Statement, nil
}

// draw draws n pictures of all errors, in standard deviations.
func (t *togetherness) draw(n int, rng *rand.Rand) [][]float64 {
	field := t.model.draw(t.nodes, n, rng)
	noise := make([][]float64, len(t.errVar))
	for i, v := range t.errVar {
		noise[i] = normals(n, math.Sqrt(v), rng)
	}
	slopes := t.model.trend.draw(n, rng)
	course, years := normals(n, 1, rng), normals(n, 1, rng)
	months := t.model.season.drawMonths(n, rng)
	out := make([][]float64, len(t.rows))
	for i := range t.rows {
		row := &t.rows[i]
		z := normals(n, math.Sqrt(row.extra), rng)
		for s := range z {
			z[s] += field[row.node][s]
			for k, w := range row.weights {
				z[s] -= w * (field[row.nodes[k]][s] + noise[row.noises[k]][s])
			}
			for k, d := range row.beside {
				z[s] += d * slopes[k][s]
			}
			z[s] = math.Sqrt(row.wider)*z[s] + row.shared.course*course[s] + row.shared.years*years[s]
			for k, d := range row.shared.months {
				z[s] += d * months[k][s]
			}
		}
		out[i] = standard(z)
	}
	return out
}

// drawNeighbours is how many places drawn before are looked at for the next.
const drawNeighbours = 32

// draw draws the field, without its micro-scale part, at places.
func (m *Model) draw(nodes []variogram.XY, n int, rng *rand.Rand) [][]float64 {
	x, y := make([]float64, len(nodes)), make([]float64, len(nodes))
	for i, p := range nodes {
		x[i], y[i] = p.X, p.Y
	}
	order := near.FarthestFirst(x, y)
	px, py := make([]float64, len(order)), make([]float64, len(order))
	for k, i := range order {
		px[k], py[k] = x[i], y[i]
	}
	tree := near.NewTree(px, py)
	query := tree.Query()
	out := make([][]float64, len(nodes))
	for k, i := range order {
		var before []int
		for _, f := range query.Earlier(px[k], py[k], drawNeighbours, k) {
			before = append(before, order[tree.Order()[f.At]])
		}
		weights, variance := m.given(nodes, i, before)
		out[i] = normals(n, math.Sqrt(variance), rng)
		for j, w := range weights {
			for s, v := range out[before[j]] {
				out[i][s] += w * v
			}
		}
	}
	return out
}

// given returns the weights of values drawn before, and the variance that they leave. Where
// places are too near each other to be told apart, the nearest alone counts.
func (m *Model) given(nodes []variogram.XY, i int, before []int) (weights []float64, variance float64) {
	sill := m.structure.Cov(0) - m.micro
	for n := len(before); n > 0; n = min(n-1, 1) {
		k, c := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
		for a, j := range before[:n] {
			for b := range a {
				k.SetSym(a, b, m.likeness(nodes[j], nodes[before[b]]))
			}
			k.SetSym(a, a, sill)
			c.SetVec(a, m.likeness(nodes[i], nodes[j]))
		}
		var factor mat.Cholesky
		var w mat.VecDense
		if factor.Factorize(k) && factor.SolveVecTo(&w, c) == nil {
			return w.RawVector().Data, max(sill-mat.Dot(&w, c), 0)
		}
	}
	return nil, max(sill, 0)
}

// likeness is the covariance of the field at two places, without its micro-scale part.
func (m *Model) likeness(a, b variogram.XY) float64 {
	if d := a.DistanceTo(b); d > 0 {
		return m.structure.Cov(d)
	}
	return m.structure.Cov(0) - m.micro
}

// draw draws what is not known of the slopes.
func (t *trend) draw(n int, rng *rand.Rand) [][]float64 {
	if t.flat {
		return zeros(len(t.row(Land{})), n)
	}
	return drawn(len(t.cov), func(i, j int) float64 { return t.cov[i][j] }, n, rng)
}

// drawMonths draws what is not known of the course of the year.
func (s Season) drawMonths(n int, rng *rand.Rand) [][]float64 {
	return drawn(len(s.Rise), func(i, j int) float64 { return s.riseCov[i][j] }, n, rng)
}

// drawn draws n of so many numbers of known covariances, which may be 0.
func drawn(count int, covariance func(i, j int) float64, n int, rng *rand.Rand) [][]float64 {
	out := zeros(count, n)
	cov := mat.NewSymDense(count, nil)
	for i := range count {
		for j := range i + 1 {
			cov.SetSym(i, j, covariance(i, j))
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(cov, true) {
		return out
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	for j, v := range eigen.Values(nil) {
		for s, z := range normals(n, math.Sqrt(max(v, 0)), rng) {
			for k := range out {
				out[k][s] += vectors.At(k, j) * z
			}
		}
	}
	return out
}

func zeros(rows, n int) [][]float64 {
	out := make([][]float64, rows)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}

func normals(n int, sd float64, rng *rand.Rand) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = sd * rng.NormFloat64()
	}
	return out
}

// standard shifts and scales draws to a mean of 0 and a variance of 1; where they do not
// differ, nothing is unknown and all stay 0.
func standard(z []float64) []float64 {
	sum, square := 0.0, 0.0
	for _, v := range z {
		sum += v
	}
	mean := sum / float64(len(z))
	for _, v := range z {
		square += (v - mean) * (v - mean)
	}
	sd := math.Sqrt(square / float64(len(z)))
	for i := range z {
		z[i] -= mean
		if sd > 0 {
			z[i] /= sd
		}
	}
	return z
}
