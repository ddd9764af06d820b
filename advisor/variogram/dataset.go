package variogram

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
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
func prepare(points []XY, values, errorVar []float64, opts Options) (*dataset, error) {
	d := &dataset{given: len(points), drift: make([][]float64, len(opts.Drift))}
	for _, col := range opts.Drift {
		if err := sameLength("drift values", len(col), len(points)); err != nil {
			return nil, err
		}
	}
	groups := coincident(points)
	d.merged = len(points) - len(groups)
	need := max(leastPoints, 6+len(opts.Drift))
	if len(groups) < need {
		return nil, ErrTooFewData
	}
	groups = thin(groups, max(need, opts.MaxPoints), opts.Seed)
	d.thinned = len(points) - d.merged - len(groups)
	for _, g := range groups {
		d.add(g, points, values, errorVar, opts.Drift)
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
func (d *dataset) add(group []int, points []XY, values, errorVar []float64, drift [][]float64) {
	exact := errorVar == nil || slices.ContainsFunc(group, func(i int) bool { return errorVar[i] == 0 })
	var sw, sz, se float64
	for _, i := range group {
		w := 1.0
		if !exact {
			w = 1 / errorVar[i]
		}
		sw += w
		sz += w * values[i]
		if errorVar != nil {
			se += w * w * errorVar[i]
		}
	}
	d.points = append(d.points, points[group[0]])
	d.values = append(d.values, sz/sw)
	d.errorVar = append(d.errorVar, se/(sw*sw))
	for k, col := range drift {
		d.drift[k] = append(d.drift[k], col[group[0]])
	}
}

// subset is a random part of at most n points.
func (d *dataset) subset(n int, seed uint64) *dataset {
	if len(d.points) <= n {
		return d
	}
	keep := rand.New(rand.NewPCG(seed, 1)).Perm(len(d.points))[:n]
	slices.Sort(keep)
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
// points are distinct. Sorting by X lets each scan stop early.
func medianNearest(points []XY) float64 {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b XY) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	near := make([]float64, len(p))
	for i := range p {
		near[i] = math.Inf(1)
		for j := i + 1; j < len(p) && p[j].X-p[i].X < near[i]; j++ {
			near[i] = min(near[i], p[i].DistanceTo(p[j]))
		}
		for j := i - 1; j >= 0 && p[i].X-p[j].X < near[i]; j-- {
			near[i] = min(near[i], p[i].DistanceTo(p[j]))
		}
	}
	slices.Sort(near)
	return near[len(near)/2]
}
