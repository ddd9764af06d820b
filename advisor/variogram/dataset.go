package variogram

import (
	"math"
	"math/rand/v2"
	"slices"

	"waterstrike/advisor/near"
)

// dataset is the input of a fit after merging and thinning.
type dataset struct {
	points   []XY
	values   []float64
	errorVar []float64 // nil when no datum has a reading error
	drift    [][]float64

	given, merged, thinned int
}

// prepare merges coincident points and thins what is left.
func prepare(given *dataset, opts Options) (*dataset, error) {
	d := &dataset{given: len(given.points), drift: make([][]float64, len(given.drift))}
	groups := coincident(given.points)
	d.merged = len(given.points) - len(groups)
	need := max(leastPoints, 6+len(given.drift))
	if len(groups) < need {
		return nil, ErrTooFewData
	}
	groups = thin(groups, max(need, opts.MaxPoints), opts.Seed)
	d.thinned = len(given.points) - d.merged - len(groups)
	for _, g := range groups {
		d.add(g, given)
	}
	if !slices.ContainsFunc(d.errorVar, func(e float64) bool { return e > 0 }) {
		d.errorVar = nil
	}
	return d, nil
}

// coincident groups the indices of equal positions, in order of first appearance.
func coincident(points []XY) [][]int {
	at := make(map[XY]int, len(points))
	var groups [][]int
	for i, p := range points {
		g, seen := at[p]
		if !seen {
			g = len(groups)
			at[p] = g
			groups = append(groups, nil)
		}
		groups[g] = append(groups[g], i)
	}
	return groups
}

// thin keeps a random subset, which keeps the mix of short and long distances, in
// the original order.
func thin(groups [][]int, most int, seed uint64) [][]int {
	if len(groups) <= most {
		return groups
	}
	keep := rand.New(rand.NewPCG(seed, 0)).Perm(len(groups))[:most]
	slices.Sort(keep)
	out := make([][]int, most)
	for i, k := range keep {
		out[i] = groups[k]
	}
	return out
}

// add appends one position with its merged value and error variance.
func (d *dataset) add(group []int, given *dataset) {
	value, variance := Merge(pick(given.values, group), pick(given.errorVar, group))
	d.points = append(d.points, given.points[group[0]])
	d.values = append(d.values, value)
	d.errorVar = append(d.errorVar, variance)
	for k, col := range given.drift {
		d.drift[k] = append(d.drift[k], col[group[0]])
	}
}

// check checks what a likelihood asks of its data.
func (d *dataset) check() error {
	for _, col := range d.drift {
		if err := sameLength("drift values", len(col), len(d.points)); err != nil {
			return err
		}
	}
	return checkSample(d.points, d.values, d.errorVar, 2+len(d.drift))
}

// subset is a random part of at most n points.
func (d *dataset) subset(n int, seed uint64) *dataset {
	if len(d.points) <= n {
		return d
	}
	keep := rand.New(rand.NewPCG(seed, 1)).Perm(len(d.points))[:n]
	slices.Sort(keep)
	return d.pick(keep)
}

// withoutErrors is the data taken as exact.
func (d *dataset) withoutErrors() *dataset {
	return &dataset{points: d.points, values: d.values, drift: d.drift}
}

// pick is the data of some points, in the order asked for.
func (d *dataset) pick(keep []int) *dataset {
	return &dataset{
		points: pick(d.points, keep), values: pick(d.values, keep), errorVar: pick(d.errorVar, keep),
		drift: pickAll(d.drift, keep),
	}
}

func pick[T any](from []T, keep []int) []T {
	if from == nil {
		return nil
	}
	out := make([]T, len(keep))
	for i, k := range keep {
		out[i] = from[k]
	}
	return out
}

func pickAll(cols [][]float64, keep []int) [][]float64 {
	out := make([][]float64, len(cols))
	for k, col := range cols {
		out[k] = pick(col, keep)
	}
	return out
}

// medianNearest is the median distance from a point to its nearest neighbour. The
// points are distinct.
func medianNearest(points []XY) float64 {
	x, y := columns(points)
	q := near.NewTree(x, y).Query()
	gap := make([]float64, len(points))
	for i, p := range points {
		gap[i] = math.Sqrt(q.Nearest(p.X, p.Y, 1, i, math.Inf(1))[0].D2)
	}
	slices.Sort(gap)
	return gap[len(gap)/2]
}

func columns(points []XY) (x, y []float64) {
	x, y = make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		x[i], y[i] = p.X, p.Y
	}
	return x, y
}
