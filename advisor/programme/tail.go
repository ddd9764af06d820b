package programme

import "slices"

// worstMean is the mean of the worst fifth of equally likely totals,
//
//	CVaR = (Z₍₁₎ + … + Z₍ₖ₎ + (αm - k) Z₍ₖ₊₁₎) / αm,  k = ⌊αm⌋, α = 1/5,
//
// the least ones first.
//
//   - Units: those of the totals. scratch has their length and is overwritten.
//   - Source: Rockafellar and Uryasev (2000), J. Risk 2(3):21-41, for equally likely cases.
//   - Checked by: TestWorstMean.
func worstMean(totals, scratch []float64) float64 {
	copy(scratch, totals)
	slices.Sort(scratch)
	weight := worstShare * float64(len(totals))
	sum, left := 0.0, weight
	for _, z := range scratch {
		if left <= 0 {
			break
		}
		sum += min(left, 1) * z
		left--
	}
	return sum / weight
}

// score weighs mean and worst fifth of the totals by the caution.
func (g *goal) score(totals, scratch []float64) float64 {
	if g.blind {
		return 0
	}
	mean := 0.0
	for _, z := range totals {
		mean += z / float64(len(totals))
	}
	if g.caution == 0 {
		return mean
	}
	return (1-g.caution)*mean + g.caution*worstMean(totals, scratch)
}

// tilted returns the weights of the scenarios under which a column's value is what the
// score loses or gains with it at most: the mean's share plus that of the worst fifth.
// With them the score of any totals is at most their weighted sum.
func (g *goal) tilted(worst []float64) []float64 {
	out := make([]float64, len(worst))
	for s, q := range worst {
		out[s] = (1-g.caution)/float64(len(worst)) + g.caution*q
	}
	return out
}

// worstOf returns the weights of the worst fifth of some totals.
func worstOf(totals []float64) []float64 {
	order := make([]int, len(totals))
	for s := range order {
		order[s] = s
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case totals[a] < totals[b]:
			return -1
		case totals[a] > totals[b]:
			return 1
		}
		return 0
	})
	out := make([]float64, len(totals))
	weight := worstShare * float64(len(totals))
	left := weight
	for _, s := range order {
		out[s] = max(0, min(left, 1)) / weight
		left--
	}
	return out
}

// ontoWeights moves a vector to the nearest weights that a worst fifth can have: each in
// [0, 1/αm], together 1. The shift is found by bisection.
//
//   - Source: projection on a box with one sum (textbook, from memory).
//   - Checked by: TestOntoWeights.
func ontoWeights(x []float64) {
	most := 1 / (worstShare * float64(len(x)))
	total := func(shift float64) float64 {
		sum := 0.0
		for _, v := range x {
			sum += min(max(v-shift, 0), most)
		}
		return sum
	}
	lo, hi := slices.Min(x)-most, slices.Max(x)
	for range 60 { // halves the bracket to the rounding of its ends
		if mid := (lo + hi) / 2; total(mid) > 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	sum := 0.0
	for s, v := range x {
		x[s] = min(max(v-(lo+hi)/2, 0), most)
		sum += x[s]
	}
	for s := range x {
		x[s] = min(x[s]/sum, most)
	}
}
