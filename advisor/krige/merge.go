package krige

import (
	"math"

	"waterstrike/advisor/variogram"
)

// Merge makes one datum of those that lie at one place, or within a distance that
// readings of position cannot tell apart: what [Solver.Fit] refuses as duplicates or as
// ill-conditioned. Going through the data in order, a datum joins the earliest one
// within the distance that has not joined another itself; value and error variance
// follow [variogram.Merge], position and drift are those of the datum joined.
//
//   - Shapes: group tells for each datum given which of the merged ones holds it.
//   - Units: withinM in metres, inclusive; 0 merges only what coincides.
//   - Domain: one micro-scale variance belongs to one place. Readings of different
//     things near each other, such as two aquifers, are no duplicates.
//   - Errors: [variogram.ErrNotFinite], [*variogram.ParameterError].
//   - Cost: O(n log n) while few data lie within the distance.
//   - Source: [variogram.Merge].
//   - Checked by: TestMergeDuplicates, TestMergeLeavesPredictions.
func Merge(data []Datum, withinM float64) (merged []Datum, group []int, err error) {
	if !(withinM >= 0) || math.IsInf(withinM, 1) {
		return nil, nil, &variogram.ParameterError{Name: "distance", Value: withinM, Want: "a finite number, 0 or above"}
	}
	for i := range data {
		if err := data[i].check(); err != nil {
			return nil, nil, err
		}
	}
	members, group := gatherTwins(data, withinM)
	for _, who := range members {
		merged = append(merged, mergeOne(data, who))
	}
	return merged, group, nil
}

// gatherTwins groups data by the datum they join.
func gatherTwins(data []Datum, withinM float64) (members [][]int, group []int) {
	tree := treeOf(data)
	group = make([]int, len(data))
	heads := make([]bool, len(data))
	for i, d := range data {
		joined := -1
		for _, j := range tree.EarlierWithin(d.X, d.Y, i, withinM*withinM) {
			if heads[j] && (joined < 0 || j < joined) {
				joined = j
			}
		}
		if joined >= 0 {
			group[i] = group[joined]
			members[group[i]] = append(members[group[i]], i)
			continue
		}
		heads[i], group[i] = true, len(members)
		members = append(members, []int{i})
	}
	return members, group
}

func mergeOne(data []Datum, who []int) Datum {
	values, errVars := make([]float64, len(who)), make([]float64, len(who))
	for k, i := range who {
		values[k], errVars[k] = data[i].Value, data[i].ErrVar
	}
	d := data[who[0]]
	d.Value, d.ErrVar = variogram.Merge(values, errVars)
	return d
}
